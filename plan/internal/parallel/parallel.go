// Package parallel shares out pieces of work that do not depend on one another. A worker that breaks ends
// the work with an error of one line: where it broke goes to whoever asks for it, not to the user.
package parallel

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"
	"sync/atomic"
)

// Do does n pieces of work with several workers, each made by its own call of worker, and waits for
// all of them. A panic in one ends the work and is returned as a [*Broken].
func Do(ctx context.Context, workers, n int, progress func(done, total int), worker func() func(int)) error {
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
					stop(&Broken{Value: r, Stack: debug.Stack()})
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
	if err := context.Cause(ctx); err != nil {
		return err
	}
	return nil
}

// Broken is the error of a worker that panicked.
type Broken struct {
	Value any    // what it panicked with
	Stack []byte // where, for a log
}

// Error returns one line.
func (b *Broken) Error() string {
	line, _, _ := strings.Cut(fmt.Sprint(b.Value), "\n")
	return "a part of the work failed: " + line
}
