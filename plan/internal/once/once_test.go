package once

import (
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
)

func TestEachValueIsMadeOnce(t *testing.T) {
	var m Map[int, int]
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
