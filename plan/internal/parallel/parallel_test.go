package parallel

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
)

func TestDoDoesAll(t *testing.T) {
	var sum atomic.Int64
	var last int
	err := Do(t.Context(), 3, 100, func(done, total int) { last = done }, func() func(int) {
		return func(i int) { sum.Add(int64(i)) }
	})
	if err != nil || sum.Load() != 4950 || last != 100 {
		t.Errorf("sum %d, progress to %d, error %v", sum.Load(), last, err)
	}
}

// A user of the command line reads the error: it is one line, and the stack is kept apart from it.
func TestABrokenWorkerIsOneLine(t *testing.T) {
	err := Do(t.Context(), 2, 10, nil, func() func(int) {
		return func(i int) {
			if i == 3 {
				panic("no such moment\nand more")
			}
		}
	})
	var broken *Broken
	if !errors.As(err, &broken) {
		t.Fatalf("error %v, want one of a broken worker", err)
	}
	if text := err.Error(); strings.Contains(text, "\n") || strings.Contains(text, "goroutine") || !strings.Contains(text, "no such moment") {
		t.Errorf("error %q, want one line that says what broke", text)
	}
	if !strings.Contains(string(broken.Stack), "TestABrokenWorkerIsOneLine") {
		t.Error("the stack does not tell where it broke")
	}
}

func TestDoStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	var n atomic.Int64
	err := Do(ctx, 2, 1000, nil, func() func(int) {
		return func(int) {
			if n.Add(1) == 10 {
				stop()
			}
		}
	})
	if !errors.Is(err, context.Canceled) || n.Load() > 20 {
		t.Errorf("%d pieces done, error %v", n.Load(), err)
	}
}
