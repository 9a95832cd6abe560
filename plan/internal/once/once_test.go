package once

import (
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
)

func TestEachValueIsMadeOnce(t *testing.T) {
	m := Most[int, int](100)
	var made atomic.Int64
	var wg sync.WaitGroup
	for range 8 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range 100 {
				value := func() int {
					made.Add(1)
					for range 30 { // the others come meanwhile
						runtime.Gosched()
					}
					return k * k
				}
				if got := m.Get(k, value); got != k*k {
					t.Errorf("key %d has %d", k, got)
				}
			}
		}()
	}
	wg.Wait()
	if made.Load() != 100 {
		t.Errorf("%d values were made for 100 keys", made.Load())
	}
}

// A value is the same until there would be more of them than are kept; then all begin anew.
func TestNoMoreIsKeptThanWasSaid(t *testing.T) {
	m := Most[int, *int](10)
	get := func(k int) *int { return m.Get(k, func() *int { return &k }) }
	for k := range 10 {
		if a, b := get(k), get(k); a != b || *a != k {
			t.Fatalf("key %d has %d and %d", k, *a, *b)
		}
	}
	first := get(0)
	for k := range 1000 {
		if v := get(k); *v != k || m.Len() > 10 {
			t.Fatalf("key %d has %d, %d are kept", k, *v, m.Len())
		}
	}
	if again := get(0); again == first || *again != *first {
		t.Error("the first value was kept for ever, or is another now")
	}
	m.Forget()
	if m.Len() != 0 || *get(3) != 3 {
		t.Error("nothing was given back")
	}
}
