//go:build !windows

package main

import (
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

var kills = flag.Int("kills", 20, "how often TestKilled kills the program")

// TestKilled kills the program at a bolt, again and again, and goes on each time
// at the right one: after a bolt was confirmed, after two, before one is, and
// while one is being written.
func TestKilled(t *testing.T) {
	within, came, begun := 0, 0, time.Now()
	for killed := 0; killed < *kills; {
		path, plan := copyJob(t, "pump-house-6in-150.toml")
		var order []string
		for range plan.Passes {
			for _, s := range plan.Stations {
				order = append(order, fmt.Sprint(s[0]))
			}
		}
		done := 0
		for ; killed < *kills && done+2 < len(order); killed++ {
			l := lines(t, path)
			confirm := func() {
				fmt.Fprintln(l.in, "d")
				if line, err := l.out.ReadString('\n'); err != nil || !strings.Contains(line, "RECORDED: done") {
					t.Fatalf("kill %d: %q, %v", killed, line, err)
				}
				done++
			}
			offered := func() {
				l.until(t, plan)
				if l.next != order[done] {
					t.Fatalf("kill %d: bolt %s is offered, %s is next", killed, l.next, order[done])
				}
			}
			offered()
			switch killed % 4 {
			case 1:
				confirm()
				offered()
				confirm()
			case 2: // it must be offered again
			case 3:
				fmt.Fprintln(l.in, "d")
				time.Sleep(time.Duration(rand.IntN(600)) * time.Microsecond)
			default:
				confirm()
			}
			l.cmd.Process.Kill()
			if killed%4 == 3 {
				within++
				said, _ := io.ReadAll(l.out)
				marks := bolts(t, path)
				told := strings.Contains(string(said), "RECORDED: done")
				if marks != done && marks != done+1 || told && marks != done+1 {
					t.Fatalf("kill %d: %d bolts on the card, %d before it, told: %t", killed, marks, done, told)
				}
				came += marks - done
				done = marks
			}
			l.cmd.Wait()
		}
		if marks := bolts(t, path); marks != done {
			t.Fatalf("kill %d: %d bolts on the card, %d confirmed", killed, marks, done)
		}
	}
	t.Logf("%d kills in %v, %d of them within a bolt, of which %d were on the disk", *kills, time.Since(begun).Round(time.Second), within, came)
}

// bolts counts those that are done on the only card beside a job, which has to be whole.
func bolts(t *testing.T, path string) (done int) {
	t.Helper()
	cards, _ := card.Find(filepath.Dir(path))
	if len(cards) != 1 {
		t.Fatalf("cards: %v", cards)
	}
	c, err := card.Read(cards[0])
	if err != nil || c.Torn != nil {
		t.Fatalf("the card after a kill: torn %v, %v", c.Torn, err)
	}
	for _, e := range c.Events() {
		if _, ok := e.Data.(sequence.BoltDone); ok {
			done++
		}
	}
	return done
}
