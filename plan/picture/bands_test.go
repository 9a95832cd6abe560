package picture

import (
	"fmt"
	"strings"
	"sync"
	"testing"
)

// Every row is drawn once, whatever the size.
func TestBandsCoverThePicture(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {3, 2}, {64, 63}, {64, 65}, {160, 90}, {400, 7}, {1920, 1080}} {
		var mu sync.Mutex
		rows := make([]int, size[1])
		inBands(size[0], size[1], 4, func(from, to int) {
			mu.Lock()
			defer mu.Unlock()
			for i := from; i < to; i++ {
				rows[i]++
			}
		})
		for i, n := range rows {
			if n != 1 {
				t.Errorf("%v: row %d is drawn %d times", size, i, n)
			}
		}
	}
}

// A failure in a worker reaches the caller, who keeps the user's work; it must not end the program.
func TestABrokenBandBreaksInTheCaller(t *testing.T) {
	defer func() {
		if r := recover(); r == nil || !strings.Contains(fmt.Sprint(r), "a mistake") {
			t.Errorf("recovered %v", r)
		}
	}()
	inBands(400, 300, 4, func(from, _ int) {
		if from >= 100 {
			panic("a mistake")
		}
	})
	t.Error("the failure was swallowed")
}
