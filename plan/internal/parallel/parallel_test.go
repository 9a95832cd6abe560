package parallel

import (
	"context"
	"errors"
	"strings"
	"sync"
	"testing"
)

func TestDoEachOnce(t *testing.T) {
	const n = 1000
	var mu sync.Mutex
	var times [n]int
	made, calls := 0, 0
	err := Do(context.Background(), 3, n, func(done, total int) {
		calls++
		if done != calls || total != n {
			t.Errorf("progress %d of %d at call %d", done, total, calls)
		}
	}, func() func(int) {
		mu.Lock()
		made++
		mu.Unlock()
		return func(i int) {
			mu.Lock()
			times[i]++
			mu.Unlock()
		}
	})
	if err != nil || made != 3 || calls != n {
		t.Fatalf("%v, %d workers, %d calls", err, made, calls)
	}
	for i, k := range times {
		if k != 1 {
			t.Errorf("piece %d was done %d times", i, k)
		}
	}
	if err := Do(context.Background(), 3, 0, nil, nil); err != nil {
		t.Errorf("nothing to do: %v", err)
	}
}

func TestDoCancelled(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	err := Do(ctx, 2, 100000, func(done, _ int) {
		if done == 5 {
			stop()
		}
	}, func() func(int) { return func(int) {} })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

// A worker that breaks ends the work with one line that a person can pass on: what broke and where,
// and no stack.
func TestDoBroken(t *testing.T) {
	var none []int
	for name, worker := range map[string]func() func(int){
		"at the start": func() func(int) { panic("at the start") },
		"index out of range [7] with length 0": func() func(int) {
			return func(i int) {
				if i == 7 {
					none[i] = 1
				}
			}
		},
		"nil pointer dereference": func() func(int) {
			return func(int) {
				var p *int
				*p = 1
			}
		},
		"two": func() func(int) { panic("two\nlines") },
	} {
		err := Do(context.Background(), 3, 20, nil, worker)
		switch {
		case err == nil:
			t.Errorf("%s: no error", name)
		case strings.ContainsAny(err.Error(), "\n\t"), strings.Contains(err.Error(), "goroutine"):
			t.Errorf("%s: more than a line: %q", name, err)
		case !strings.Contains(err.Error(), name), !strings.Contains(err.Error(), "parallel_test.go:"):
			t.Errorf("%s: %q", name, err)
		}
	}
}

func TestShareEachOnce(t *testing.T) {
	for _, workers := range []int{0, 1, 2, 7} {
		for _, n := range []int{0, 1, 3, 200} {
			times := make([]int, n) // the race detector tells when two workers share a piece
			if err := Share(workers, n, func(i int) { times[i]++ }); err != nil {
				t.Fatal(err)
			}
			for i, k := range times {
				if k != 1 {
					t.Errorf("%d workers: piece %d of %d was done %d times", workers, i, n, k)
				}
			}
		}
	}
}

func TestShareBroken(t *testing.T) {
	for _, at := range []int{0, 7, 19} {
		err := Share(3, 20, func(i int) {
			if i == at {
				panic("a mistake")
			}
		})
		if err == nil || !strings.Contains(err.Error(), "a mistake") || !strings.Contains(err.Error(), "parallel_test.go:") {
			t.Errorf("piece %d: %v", at, err)
		}
	}
}
