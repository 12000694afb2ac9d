//go:build !windows

package main

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/data/card"
	"evenload/sequence"
)

// TestWholeJobOfTwoTools drives the job of two tools the same way; its record
// says which bolt had which tool.
func TestWholeJobOfTwoTools(t *testing.T) {
	t.Parallel()
	path, plan := copyJob(t, "booster-dn300-pn25.toml")
	p := open(t, "walk", "--key-rest", "1ms", path)
	p.wait("Who works")
	p.send("Ann\r")
	p.send("Bo\r")
	p.wait("GATE   1 of 19")
	time.Sleep(300 * time.Millisecond)
	p.send("2-D\r")
	for i := 2; i <= 19; i++ {
		p.wait(fmt.Sprintf("GATE   %d of 19", i))
		time.Sleep(300 * time.Millisecond)
		p.send("y")
	}
	p.wait("SNUG")
	p.send(" ")
	gaps := func() {
		for range plan.GapPlaces {
			p.send("1.2\r")
		}
	}
	p.wait("GAPS   after snug")
	gaps()
	read := func(pass, slot int) string {
		gauge := plan.Tools[slot].Gauge
		return plan.Passes[pass].Settings[slot].Set.Reading(gauge.Unit, gauge.Division) + "\r"
	}
	for i := range plan.Passes {
		for slot := range plan.Tools {
			p.wait(fmt.Sprintf("SET %s   PASS %d of 3", sequence.Letter(slot), i+1))
			p.send(read(i, slot))
			p.send("\r")
		}
		for done := 0; done < plan.Bolts; done += 2 {
			p.wait(fmt.Sprintf("%d of %d done", done, plan.Bolts))
			p.send(" ")
		}
		for slot := range plan.Tools {
			p.wait("READ AGAIN " + sequence.Letter(slot))
			p.send(read(i, slot))
		}
		p.wait("GAPS   after pass")
		for _, keys := range []string{"1.2\r", "1\r", "1.2\r", "9\r"} {
			p.send(keys)
		}
	}
	p.wait("SET A   CHECK ROUND 1")
	p.send(read(2, 0))
	p.send("\r")
	for done := range plan.Bolts {
		p.wait(fmt.Sprintf("%d of %d done", done, plan.Bolts))
		p.send(" ")
	}
	p.wait("READ AGAIN A   CHECK ROUND 1")
	p.send(read(2, 0))
	p.wait("THE GASKET RESTS")
	p.send("w")
	for _, keys := range []string{"Eva\r", "engineer\r", "trial\r"} {
		p.send(keys)
	}
	p.wait("GAPS   after check rounds")
	gaps()
	for i := range 3 {
		p.wait(fmt.Sprintf("CLOSING   %d of 3", i+1))
		time.Sleep(300 * time.Millisecond)
		p.send("y")
	}
	p.wait("READY TO CLOSE")
	p.send("Wim\r")
	p.send("inspector\r")
	p.wait("THE CARD IS CLOSED")
	p.send("q")
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	cards, _ := card.Find(filepath.Dir(path))
	if len(cards) != 1 {
		t.Fatalf("cards: %v", cards)
	}
	out, err := exec.Command(program, "record", cards[0]).CombinedOutput()
	if err != nil || strings.Contains(string(out), "DRAFT") {
		t.Errorf("the record: %v\n%s", err, out)
	}
	for pass := range plan.Passes {
		for _, s := range plan.Stations {
			want := fmt.Sprintf("pass %d, bolt %d with tool A W-21, bolt %d with tool B W-22 done", pass+1, s[0], s[1])
			if strings.Count(string(out), want) != 1 {
				t.Errorf("the record does not say once %q", want)
			}
		}
	}
}
