package board

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenload/joint"
	"evenload/sequence"
)

// TestDamageStandsFirst in every order, also in one turned round.
func TestDamageStandsFirst(t *testing.T) {
	dir := t.TempDir()
	o := frozen(t, jobs+"header-dn400-pn16.toml", "DH-9")
	write(t, filepath.Join(dir, "DH-9.20261125-aaaaaa.card.jsonl"), o, events(t, o, "Ann Berg", nil))
	half := frozen(t, jobs+"header-dn400-pn16.toml", "DH-1")
	write(t, filepath.Join(dir, "DH-1.20261125-bbbbbb.card.jsonl"), half, events(t, half, "Ann Berg", bolt(2, 1)))
	whole := lines(t, frozen(t, jobs+"header-dn400-pn16.toml", "DH-5"), events(t, o, "Ann Berg", nil))
	put(t, filepath.Join(dir, "DH-5.20261125-cccccc.card.jsonl"), strings.Replace(whole, "snugged", "snugged ", 1))
	put(t, filepath.Join(dir, "DH-6.20261125-dddddd.card.jsonl"), strings.Replace(whole, "DH-5", "DH-6", 1)) // its first line is hurt
	rows := lookAt(t, dir, nil)
	for o := range Orders {
		for _, reverse := range []bool{false, true} {
			o.Sort(rows, reverse)
			if len(rows) != 4 || rows[0].Damage == "" || rows[1].Damage == "" {
				t.Errorf("by %s, reverse %v: %s %q, %s %q", o, reverse, rows[0].Name(), rows[0].Damage, rows[1].Name(), rows[1].Damage)
			}
		}
	}
}

// TestOneZone: the times of cards of several zones are told in that of whoever looks.
func TestOneZone(t *testing.T) {
	dir := t.TempDir()
	for tag, minutes := range map[string]int{"DH-1": 60, "DH-2": -300} {
		o := frozen(t, jobs+"header-dn400-pn16.toml", tag)
		o.OffsetMinutes = minutes
		resting := func(s sequence.Step) bool { _, ok := s.(sequence.Rest); return ok }
		write(t, filepath.Join(dir, tag+".20261125-aaaaaa.card.jsonl"), o, events(t, o, "Ann Berg", resting))
	}
	for name, hours := range map[string]int{"UTC": 0, "here": 9} {
		b := New(dir)
		if err := Scan(context.Background(), dir, nil, joint.DateOf(morning), b.Add); err != nil {
			t.Fatal(err)
		}
		b.Settle()
		now := morning.Add(2 * time.Hour).In(time.FixedZone(name, hours*3600))
		rows := b.Rows(now)
		if len(rows) != 2 {
			t.Fatalf("%+v", rows)
		}
		last := rows[0].LastAt.In(now.Location()).Format("2006-01-02 15:04")
		ends := rows[0].RestEnds.In(now.Location()).Format("2006-01-02 15:04")
		for _, r := range rows {
			if r.LastWord(now) != last || !strings.Contains(r.WaitWord(), "until "+ends) {
				t.Errorf("%s, in zone %s: last %s, waits %s; want %s and %s", r.Tag, name, r.LastWord(now), r.WaitWord(), last, ends)
			}
		}
		var out strings.Builder
		if err := Plain(&out, rows, now); err != nil || !strings.Contains(out.String(), "LAST (LOCAL TIME)") {
			t.Errorf("%v\n%s", err, out.String())
		}
	}
}

// TestTwoCardsOfOneJoint that were begun on their own are told of each other while
// both are open.
func TestTwoCardsOfOneJoint(t *testing.T) {
	dir := t.TempDir()
	o := frozen(t, jobs+"header-dn400-pn16.toml", "DH-9")
	half := events(t, o, "Ann Berg", bolt(2, 1))
	write(t, filepath.Join(dir, "a", "DH-9.20261125-aaaaaa.card.jsonl"), o, half)
	write(t, filepath.Join(dir, "c", "DH-9.20261125-aaaaaa.card.jsonl"), o, half) // a copy is no other card
	other := o
	other.Program = "evenload elsewhere"
	path := filepath.Join(dir, "b", "DH-9.20261125-bbbbbb.card.jsonl")
	for _, all := range [][]sequence.Event{half, events(t, other, "Ann Berg", nil)} {
		write(t, path, other, all)
		told := 0
		for _, r := range lookAt(t, dir, nil) {
			for _, w := range r.Waits {
				if strings.Contains(w.Why, "another card of this joint is open: ") {
					told++
				}
			}
		}
		if want := map[bool]int{true: 2, false: 0}[len(all) == len(half)]; told != want {
			t.Errorf("with %d lines of the other: told %d times, want %d", len(all), told, want)
		}
	}
}

// TestJobChangedSince: the job file or a tool file beside an open card is another now.
func TestJobChangedSince(t *testing.T) {
	dir := t.TempDir()
	jobFile, toolFile := filepath.Join(dir, "a", "header.toml"), filepath.Join(dir, "a", "tools", "w-11.toml")
	put(t, jobFile, text(t, jobs+"header-dn400-pn16.toml"))
	put(t, toolFile, text(t, jobs+"tools/w-11.toml"))
	o := frozen(t, jobFile, "")
	write(t, filepath.Join(dir, "a", o.Plan.About.Tag+".20261125-aaaaaa.card.jsonl"), o, events(t, o, "Ann Berg", bolt(2, 1)))
	for _, c := range []struct{ file, old, to, want string }{
		{jobFile, "", "", ""},
		{jobFile, `yield_share = "50 %"`, `yield_share = "45 %"`, "the job file has changed since the card was begun: header.toml"},
		{toolFile, `torque = "632 N·m"`, `torque = "640 N·m"`, "a tool file or default of the job has changed since the card was begun: header.toml"},
	} {
		before := text(t, c.file)
		if !strings.Contains(before, c.old) {
			t.Fatalf("%q is not in %s", c.old, c.file)
		}
		put(t, c.file, strings.Replace(before, c.old, c.to, 1))
		var said []string
		for _, w := range rowOf(t, lookAt(t, dir, nil), o.Plan.About.Tag).Waits {
			if strings.Contains(w.Why, "has changed") {
				said = append(said, w.Why)
			}
		}
		if strings.Join(said, "; ") != c.want {
			t.Errorf("said is %q, want %q", said, c.want)
		}
		put(t, c.file, before)
	}
}
