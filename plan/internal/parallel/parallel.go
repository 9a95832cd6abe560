// Package parallel does pieces of work with several workers.
//
// The one hard idea is that a worker that breaks must not end the program: a panic in a goroutine of
// its own cannot be caught by whoever asked for the work. So it is caught here, stops the other
// workers and comes back as an error of one line, which says what broke and where.
package parallel

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
)

// Do does the pieces of work 0 to n−1 and waits for all of them. There are as many workers as asked
// for, or n if that is less; each calls worker once, for memory of its own, and what that returns for
// every piece it takes. progress, which may be nil, is called after every piece, from the caller's
// goroutine. The error is the context's, or what broke in a worker.
func Do(ctx context.Context, workers, n int, progress func(done, total int), worker func() func(piece int)) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var next atomic.Int64
	var wg sync.WaitGroup
	done := make(chan struct{}, n)
	for range min(workers, n) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			defer func() {
				if r := recover(); r != nil {
					stop(broken(r))
				}
			}()
			do := worker()
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
				done <- struct{}{} // never waits: there is room for all
				runtime.Gosched()  // a key that was pressed meanwhile comes first
			}
		}()
	}
	for k := 1; k <= n; k++ {
		select {
		case <-done:
			if progress != nil {
				progress(k, n)
			}
		case <-ctx.Done():
			k = n
		}
	}
	wg.Wait()
	return context.Cause(ctx)
}

// Aside does one piece of work beside the caller, who gets what waits for it. The error is what broke in it.
func Aside(do func()) (wait func() error) {
	done := make(chan error, 1)
	go func() {
		defer func() {
			if r := recover(); r != nil {
				done <- broken(r)
			}
			close(done)
		}()
		do()
	}()
	return func() error { return <-done }
}

// Share does the pieces of work 0 to n−1 with several workers, the caller being one of them. It is for pieces that take so
// little that to wait until another core wakes would cost more: what the others do not come to, the caller does. The error
// is what broke.
func Share(workers, n int, do func(piece int)) error {
	var next, left atomic.Int64
	var broke atomic.Pointer[error]
	left.Store(int64(n))
	done := make(chan struct{})
	one := func(i int) {
		defer func() {
			if r := recover(); r != nil {
				err := broken(r)
				broke.CompareAndSwap(nil, &err)
			}
			if left.Add(-1) == 0 {
				close(done)
			}
		}()
		if broke.Load() == nil {
			do(i)
		}
	}
	work := func() {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			one(i)
			runtime.Gosched() // a key that was pressed meanwhile comes first
		}
	}
	for range min(workers, n) - 1 {
		go work()
	}
	if work(); n > 0 {
		<-done
	}
	if err := broke.Load(); err != nil {
		return *err
	}
	return nil
}

// broken returns a panic as an error of one line. It must be called where the panic is recovered:
// the stack still holds the place.
func broken(reason any) error {
	what, _, _ := strings.Cut(fmt.Sprint(reason), "\n")
	return fmt.Errorf("a calculation broke, which is a fault of this program (%s): %s", place(), what)
}

// place returns the file and line that a panic comes from: the first caller outside the runtime below
// the runtime's own part of the stack.
func place() string {
	var pcs [64]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(0, pcs[:])])
	panicking := false
	for {
		f, more := frames.Next()
		switch inRuntime := strings.HasPrefix(f.Function, "runtime."); {
		case f.Function == "runtime.gopanic":
			panicking = true
		case panicking && !inRuntime:
			return fmt.Sprintf("%s:%d", filepath.Base(f.File), f.Line)
		}
		if !more {
			return "at an unknown place"
		}
	}
}
