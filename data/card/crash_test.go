package card

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenload/sequence"
)

// crash is a walk on a card that is being cut off at every step.
type crash struct {
	t      *testing.T
	all    []sequence.Event
	states int // opened again
	deeper int // that the disk may hold in doing so
}

// use makes a card lie on a disk until the function ends.
func (c *crash) use(d *powerDisk, do func()) {
	real := drive
	defer func() { drive = real }()
	drive = d.drive()
	do()
}

// longer are events of which one has a line of several sectors.
func longer() []sequence.Event {
	all := events(5)
	all[1].Data = sequence.NoteMade{Text: strings.Repeat("the wind was strong ", 60)}
	return all
}

// cutOff holds all that the disk may hold now against what was confirmed: -1 no
// card, 0 its first line, n so many events. The power fails, or the program is
// killed and the power fails later.
func (c *crash) cutOff(d *powerDisk, confirmed int) {
	for _, state := range d.states() {
		c.goOn(d, holding(state), confirmed, true)
	}
	c.goOn(d, d.clone(), confirmed, false)
}

// goOn opens the card that a disk holds and writes one event more. The power
// fails again at each step of it.
func (c *crash) goOn(before, d *powerDisk, confirmed int, power bool) {
	dir, err := os.MkdirTemp("", "crash")
	if err != nil {
		c.t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	path, start := "", ""
	for name, text := range d.seen() {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			c.t.Fatal(err)
		}
		if IsCard(name) {
			path, start = filepath.Join(dir, name), text
		}
	}
	c.states++
	fail := func(why string, a ...any) {
		c.t.Helper()
		c.t.Logf("after %s; then %s", strings.Join(before.steps, ", "), strings.Join(d.steps, ", "))
		c.t.Fatalf(why, a...)
	}
	if path == "" {
		if confirmed >= 0 {
			fail("the card is lost")
		}
		return
	}
	d.after = func() {
		for _, state := range d.states() {
			c.deeper++
			text, is := state[filepath.Base(path)]
			if !is {
				if confirmed >= 0 {
					fail("the card is lost")
				}
				continue
			}
			got, err := parse("x", []byte(text))
			if errors.Is(err, ErrNothingRecorded) && confirmed < 0 {
				continue
			}
			if err != nil || len(got.Entries)-1 < confirmed {
				fail("%d events, %d were confirmed: %v", len(got.Entries)-1, confirmed, err)
			}
			same(c.t, got, c.all[:len(got.Entries)-1])
			if power && !keepsTail(start, text, state) {
				fail("the torn line is lost")
			}
		}
	}
	c.use(d, func() {
		j, got, err := Open(path)
		if errors.Is(err, ErrNothingRecorded) && confirmed < 0 {
			return
		}
		if err != nil {
			fail("the card cannot be opened: %v", err)
		}
		defer j.Close()
		n := len(got.Entries) - 1
		if n < confirmed {
			fail("%d events, %d were confirmed", n, confirmed)
		}
		same(c.t, got, c.all[:n])
		confirmed = n // it is shown now
		d.after()
		if err := j.Append(c.all[n]); err != nil {
			fail("the card cannot be gone on with: %v", err)
		}
		confirmed++
		d.after()
		wholeCard(c.t, path, c.all[:n+1])
	})
}

// keepsTail says that what stood behind the last whole line is in the card yet
// or in a copy.
func keepsTail(start, text string, files map[string]string) bool {
	whole, err := parse("x", []byte(start))
	if err != nil || whole.Torn == nil || strings.HasPrefix(text, start) {
		return true
	}
	for name, copied := range files {
		if strings.Contains(name, ".torn-") && copied == string(whole.Torn.text) {
			return true
		}
	}
	return false
}

// walk makes a card and writes three events, on a disk that may fail; a failure
// ends it. It gives how many were confirmed.
func (c *crash) walk(d *powerDisk) (confirmed int) {
	confirmed = -1
	c.use(d, func() {
		j, err := Create(c.t.TempDir(), sample("DH-112-F03"), day, "Vroni Ölhafen")
		if err != nil {
			return
		}
		defer j.Close()
		for confirmed = 0; confirmed < 3; confirmed++ {
			if err := j.Append(c.all[confirmed]); err != nil {
				return
			}
		}
	})
	return confirmed
}

// TestPowerCutAtEveryStep: whatever the disk kept of what was not flushed, a
// card holds every event that was confirmed and none that differs, and can be
// gone on with. Unflushed names and writes are kept up to any one of them, and
// that one is torn at 512 bytes.
func TestPowerCutAtEveryStep(t *testing.T) {
	c := &crash{t: t, all: longer()}
	d := holding(nil)
	confirmed := -1
	d.after = func() { c.cutOff(d, confirmed) }
	c.use(d, func() {
		j, err := Create(t.TempDir(), sample("DH-112-F03"), day, "Vroni Ölhafen")
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		for confirmed = 0; confirmed < 3; confirmed++ {
			c.cutOff(d, confirmed)
			if err := j.Append(c.all[confirmed]); err != nil {
				t.Fatal(err)
			}
		}
		c.cutOff(d, confirmed)
	})
	t.Logf("%d steps, %d states opened again, %d states in doing so", len(d.steps), c.states, c.deeper)
	if c.states < 100 {
		t.Error("that is no walk")
	}
}

// TestPowerCutAfterAFault: the same where the disk has failed at one step, or
// from one step on.
func TestPowerCutAfterAFault(t *testing.T) {
	c := &crash{t: t, all: longer()}
	faults := 0
	for _, onward := range []bool{false, true} {
		for at := 0; ; at++ {
			d := holding(nil)
			d.failing, d.at, d.onward = true, at, onward
			confirmed := c.walk(d)
			if !d.hasFailed {
				break
			}
			faults++
			c.cutOff(d, confirmed)
		}
	}
	t.Logf("%d faults, %d states opened again, %d states in doing so", faults, c.states, c.deeper)
	if faults < 20 {
		t.Error("too few faults")
	}
}
