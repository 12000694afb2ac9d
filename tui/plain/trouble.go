package plain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"evenload/data/job"
	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// problem asks what is wrong at a bolt, and says what is done first and what
// follows.
func (l *liner) problem(b sequence.Bolt, again bool) error {
	l.say("CAUTION: %s", sequence.ProblemHint)
	walk := l.s.Walk.At(l.now())
	for _, t := range sequence.Troubles {
		l.say("%s: %s", t.Key, t.Name)
	}
	l.owed()
	prompt := fmt.Sprintf("%s what is wrong at bolt %d, p hazard: stop the work", sequence.TroubleKeys(sequence.Troubles), b)
	out, left := walk.Out(), walk.LeftBolts()
	if len(out) > 0 && !again {
		prompt += partsPrompt(out)
	}
	if len(left) > 0 && !again {
		prompt += fmt.Sprintf(", t bolt %d: do it now", left[0])
	}
	answer, err := l.choose(prompt)
	if err != nil {
		return err
	}
	for _, t := range sequence.Troubles {
		if answer == t.Key && t.IsStill(walk.Next(l.now())) {
			l.say("NOT TAKEN: %s", sequence.StalledIsStill)
			return errAgain
		}
		if answer == t.Key {
			return l.trouble(t, b, again)
		}
	}
	switch {
	case answer == "p":
		return errHazard
	case answer == "x" && len(out) > 0 && !again:
		return l.parts(out)
	case answer == "t" && len(left) > 0 && !again:
		return l.send(sequence.Undone{Bolt: left[0]})
	}
	return l.unknown(prompt)
}

// trouble takes one problem.
func (l *liner) trouble(t sequence.Trouble, b sequence.Bolt, again bool) error {
	l.say("FIRST: %s", t.First)
	l.say("RECORD: %s", t.Needs)
	l.say("THEN: %s", t.Rule)
	slot := l.s.Walk.At(l.now()).SlotAt(b)
	d := sequence.ProblemFound{Bolt: b, What: t.What, Now: t.Leaves() && again}
	var err error
	switch {
	case t.Stops():
		d.Bolt = 0
	case t.Leaves() && !again:
		const prompt = "1 leave it, to be done or released before the end, 2 it is put right: do it again now"
		answer, err := l.choose(prompt)
		if err != nil {
			return err
		}
		if answer != "1" && answer != "2" {
			return l.unknown(prompt)
		}
		d.Now = answer == "2"
	case t.Anywhere():
		d.Bolt, err = l.anyBolt(b)
		if err == nil && t.Takes() {
			d.Batch, err = l.ask("Batch of the part that failed, may stay empty")
		}
	case t.Chooses():
		if t.What == sequence.WrongBolt {
			d.Tool = slot
		}
		d.Bolt, err = l.boltNumber("Number of the bolt")
	case t.What == sequence.WrongPressure:
		var v float64
		u := l.s.Walk.Tools()[slot].Gauge.Unit
		gauge := "The gauge"
		if l.s.Walk.Plan().Several() {
			gauge += " of tool " + l.s.Walk.ToolName(slot)
		}
		v, err = l.reading(gauge+" reads, "+string(u), string(u))
		d.Read = u.Of(v)
	}
	if err == nil {
		prompt := "Note, may stay empty"
		if t.Noted() {
			prompt = "Note, what is wrong"
		}
		d.Reason, err = l.ask(prompt)
	}
	if err != nil && !t.Grave() {
		return err
	}
	if t.Stops() && d.Reason == "" { // it stops, whatever is said
		d.Reason = sequence.NotSaid
	}
	if t.Anywhere() && d.Bolt == 0 {
		d = t.UnsaidAt()
	}
	if err != nil {
		d = l.s.Walk.OrStop(d, l.now())
	}
	return errors.Join(l.send(d), err)
}

// elsewhere takes what can show at any bolt, where none is at hand.
func (l *liner) elsewhere() error {
	l.say("CAUTION: %s", sequence.ProblemHint)
	all := sequence.TroublesAnywhere()
	for _, t := range all {
		l.say("%s: %s", t.Key, t.Name)
	}
	prompt := sequence.TroubleKeys(all) + " what is wrong at a bolt"
	walk := l.s.Walk.At(l.now())
	out := walk.Out()
	if len(out) > 0 && sequence.TakesParts(walk.Next(l.now())) {
		l.owed()
		prompt += partsPrompt(out)
	} else {
		out = nil
	}
	answer, err := l.choose(prompt)
	switch {
	case errors.Is(err, errLeave): // whoever asked for a stop gets it
		return errors.Join(l.send(sequence.ProblemFound{What: sequence.OtherHazard, Reason: sequence.NotSaid}), err)
	case err != nil:
		return err
	case answer == "x" && len(out) > 0:
		return l.parts(out)
	}
	for _, t := range all {
		if answer == t.Key {
			return l.trouble(t, 0, false)
		}
	}
	return l.unknown(prompt)
}

// anyBolt asks at which bolt something is, until it is one of the joint's; b, where not
// 0, is at hand, and is what comes back with an error.
func (l *liner) anyBolt(b sequence.Bolt) (sequence.Bolt, error) {
	prompt := "At which bolt"
	if b > 0 {
		prompt += fmt.Sprintf(", empty for bolt %d", b)
	}
	for {
		text, err := l.ask(prompt)
		if err != nil || text == "" && b > 0 {
			return b, err
		}
		n, err := strconv.Atoi(text)
		if err == nil && l.s.Walk.Plan().SlotOf(sequence.Bolt(n)) >= 0 {
			return sequence.Bolt(n), nil
		}
		l.say("NOT TAKEN: %q is no bolt of this joint", text)
	}
}

// boltNumber asks for the number of a bolt.
func (l *liner) boltNumber(prompt string) (sequence.Bolt, error) {
	text, err := l.ask(prompt)
	if err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		l.say("NOT TAKEN: %q is no bolt number", text)
		return 0, errAgain
	}
	return sequence.Bolt(n), nil
}

// reading asks for a reading in a unit.
func (l *liner) reading(prompt, in string) (float64, error) {
	text, err := l.ask(prompt)
	if err != nil {
		return 0, err
	}
	v, err := unit.ParseReading(text, in)
	if err != nil {
		l.say("NOT TAKEN: %v", err)
		return 0, errAgain
	}
	return v, nil
}

// partsPrompt offers to take a bolt in again, of those that are out.
func partsPrompt(out []sequence.Bolt) string {
	if len(out) > 1 {
		return ", x new parts are in"
	}
	return fmt.Sprintf(", x bolt %d: new parts are in", out[0])
}

// parts takes a bolt in again. Where several are out, which of them it is has to be
// said: parts come in any order.
func (l *liner) parts(out []sequence.Bolt) error {
	l.say("CAUTION: %s", sequence.PartsHint)
	l.say("NEW PARTS: bolt %s. %s", sequence.BoltList(out), l.s.Walk.Plan().PartsWords())
	b := out[0]
	if len(out) > 1 {
		var err error
		if b, err = l.boltNumber("New parts of bolt, of " + sequence.BoltList(out)); err != nil {
			return err
		}
	}
	batch, err := l.ask("Batch of the new parts")
	if err != nil {
		return err
	}
	return l.send(sequence.Replaced{Bolt: b, Batch: batch})
}

// toolOf asks first which tool is changed, where several are in use.
func (l *liner) toolOf() error {
	walk := l.s.Walk.At(l.now())
	slots := walk.InUse()
	if len(slots) == 1 {
		return l.tool(slots[0])
	}
	l.say("CAUTION: %s", sequence.ToolHint)
	prompt := "Which tool"
	for _, slot := range slots {
		prompt += fmt.Sprintf(", %s %s", strings.ToLower(sequence.Letter(slot)), sequence.OrNone(walk.Tools()[slot].ID))
	}
	which, err := l.choose(prompt)
	if err != nil {
		return err
	}
	for _, slot := range slots {
		if which == strings.ToLower(sequence.Letter(slot)) {
			return l.tool(slot)
		}
	}
	return l.unknown(prompt)
}

// tool takes another tool for a slot, or another hose or regulator.
func (l *liner) tool(slot int) error {
	l.say("CAUTION: %s", sequence.ToolHint)
	in := "IN USE: "
	if l.s.Walk.Plan().Several() {
		in = "TOOL " + sequence.Letter(slot) + " IN USE: "
	}
	l.say("%s%s", in, sequence.ToolWords(l.s.Walk.Tools()[slot]))
	others := l.s.Walk.OtherTools()
	for i, t := range others {
		l.say("%d: %s", i+1, sequence.ToolWords(t))
	}
	l.say("%s", sequence.ToolWord)
	prompt := "f a tool of a file, h the same tool: hose or regulator was changed, b back"
	if len(others) > 0 {
		prompt = "number of a tool, " + prompt
	}
	answer, err := l.choose(prompt)
	if err != nil {
		return err
	}
	switch answer {
	case "b":
		return errAgain
	case "h":
		l.say("%s", l.s.Walk.AirWords())
		reason, err := l.ask("What was changed")
		if err != nil {
			return err
		}
		return l.send(sequence.AirChanged{Slot: slot, Reason: reason})
	case "f":
		path, err := l.ask("Tool file, its path from the folder where evenload was started")
		if err != nil {
			return err
		}
		t, err := job.LoadTool(path)
		if err != nil {
			l.say("NOT TAKEN: %s", strings.ReplaceAll(err.Error(), "\n", "; "))
			return errAgain
		}
		return l.change(slot, t)
	}
	if n, err := strconv.Atoi(answer); err == nil && n >= 1 && n <= len(others) {
		return l.change(slot, others[n-1])
	}
	return l.unknown(prompt)
}

// change says what follows from another tool, and asks for what it takes.
func (l *liner) change(slot int, t joint.Tool) error {
	d, err := l.s.Walk.ToolChange(slot, t, joint.DateOf(l.now()))
	if err != nil {
		l.say("NOT TAKEN: %v", err)
		return errAgain
	}
	l.say("NEW: %s", sequence.ToolWords(t))
	for _, w := range l.s.Walk.SettingWords(d, l.system) {
		l.say("NEW: %s", w)
	}
	late := d.OverdueWords()
	for _, w := range late {
		l.say("OUT OF DATE: %s", w)
	}
	l.say("%s", l.s.Walk.AskedWords())
	goOn := false
	if l.s.Walk.At(l.now()).UnderWay() {
		l.say("1: %s", l.s.Walk.RepeatWords())
		l.say("2: %s", sequence.GoOnPass)
		const prompt = "1 begin again, 2 go on by a named person"
		answer, err := l.choose(prompt)
		if err != nil {
			return err
		}
		if answer != "1" && answer != "2" {
			return l.unknown(prompt)
		}
		goOn = answer == "2"
	}
	if d.Reason, err = l.ask("Why it is changed"); err != nil {
		return err
	}
	decided := func(what string) (*sequence.Named, error) {
		l.say("%s", what)
		n, err := l.named()
		return &n, err
	}
	if goOn {
		if d.GoOn, err = decided("Who lets the pass go on?"); err != nil {
			return err
		}
	}
	if len(late) > 0 {
		if d.Overdue, err = decided("Who allows a tool that is out of date?"); err != nil {
			return err
		}
	}
	return l.send(d)
}

// errTool asks for another tool where a reading is asked for.
var errTool = errors.New("tool")
