package once

import (
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
				if got := m.Get(k, func() int { made.Add(1); return k * k }); got != k*k {
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
