package report

import (
	"fmt"
	"strings"
	"testing"
)

func TestZZ(t *testing.T) {
	all, err := levels()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all[2:] {
		for seed := range uint64(6) {
			for _, sc := range []bool{false, true} {
				r := newRobot(t, l, seed, sc)
				m := r.whole()
				bad := 0
				rounds := map[string]int{}
				rel := ""
				for _, s := range r.steps {
					if strings.HasPrefix(s, "GAPS ACCEPTED") {
						fmt.Println(s)
						bad++
					}
					if strings.HasPrefix(s, "RELEASED") {
						rel += s + ";"
					}
					if strings.HasPrefix(s, "CHECK ROUND") {
						rounds[s]++
					}
				}
				fmt.Println(l.Name, seed, sc, m.Total, "accepted", bad, "rel", rel, "steps", len(r.steps), "rounds", rounds, len(r.run.Answers()))
			}
		}
	}
}
