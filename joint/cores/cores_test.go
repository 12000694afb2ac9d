package cores

import (
	"sync/atomic"
	"testing"
)

func TestEachNumberOnce(t *testing.T) {
	for _, n := range []int{0, 1, 2, 1000} {
		done := make([]atomic.Int32, n)
		Each(n, func() func(int) { return func(i int) { done[i].Add(1) } })
		for i := range done {
			if got := done[i].Load(); got != 1 {
				t.Errorf("%d of %d was done %d times", i, n, got)
			}
		}
	}
}

// A fault on another core is one that the caller can catch.
func TestPanicReachesTheCaller(t *testing.T) {
	for name, begin := range map[string]func() func(int){
		"beginning": func() func(int) { panic("a fault") },
		"doing": func() func(int) {
			return func(i int) {
				if i == 5 {
					panic("a fault")
				}
			}
		},
	} {
		func() {
			defer func() {
				if p := recover(); p != "a fault" {
					t.Errorf("%s: %v came out, want the fault", name, p)
				}
			}()
			Each(100, begin)
		}()
	}
}
