// Package cores spreads work over the cores.
package cores

import (
	"runtime"
	"sync/atomic"
)

// Each does 0 to n-1 on all cores, each number once. begin is called on every core
// and gives what does one of them, with room of its own. A panic comes out here:
// the caller may catch it, who has a terminal to give back.
func Each(n int, begin func() (do func(i int))) {
	var next atomic.Int64
	workers := min(runtime.GOMAXPROCS(0), n)
	ended := make(chan any, workers) // with nothing, or a panic
	for range workers {
		go func() {
			defer func() { ended <- recover() }()
			do := begin()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		}()
	}
	for range workers {
		if p := <-ended; p != nil {
			panic(p)
		}
	}
}
