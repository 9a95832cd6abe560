package plan

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// spread does n pieces of work with several workers, each made by its own call of worker, and waits for
// all of them. A panic in one ends the work and is returned as an error.
func spread(ctx context.Context, workers, n int, progress func(done, total int), worker func() func(int)) error {
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
					stop(fmt.Errorf("it failed: %v\n%s", r, debug.Stack()))
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
