package draft

import (
	"fmt"
	"testing"
)

// BenchmarkMany writes 100 rows.
func BenchmarkMany(b *testing.B) {
	into := works(b)
	var rows []Row
	for i := range 100 {
		a := full()
		a[Tag] = fmt.Sprintf("B-%d", i)
		rows = append(rows, Row{Line: i + 2, Answers: a})
	}
	for b.Loop() {
		Many(rows, nil, into, true, day, func(o Outcome) {
			if o.Err != nil {
				b.Fatal(o.Err)
			}
		})
	}
}
