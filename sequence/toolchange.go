package sequence

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"time"

	"evenload/joint"
	"evenload/joint/unit"
)

// ToolChanged: another tool does the work from now on. All that follows from
// it was computed before and stands here, so that a card never computes it.
type ToolChanged struct {
	Slot     int               `json:"slot"`
	Tool     joint.Tool        `json:"tool"`
	Settings []joint.Setting   `json:"settings"` // by pass
	Texts    map[string]string `json:"texts"`    // questions that name the tool, by id
	On       joint.Date        `json:"on"`       // the local day
	Reason   string            `json:"reason"`
	GoOn     *Named            `json:"go_on,omitempty"`   // who lets the pass go on instead of beginning it again
	Overdue  *Named            `json:"overdue,omitempty"` // who allows a tool or gauge that is out of date
}

// AirChanged: the tool is the same, its hose or regulator is another one.
type AirChanged struct {
	Slot   int    `json:"slot"`
	Reason string `json:"reason"`
}

// MayChange says that tool, hose or regulator can be changed here: once the end
// readings have begun all are taken, so that none is lost.
func (s Set) MayChange() bool { return !s.AtEnd || s.Slot == 0 }

// fitted is the tool of a slot after a change.
type fitted struct {
	tool     joint.Tool
	settings []joint.Setting // by pass
}

// tool is the one in a slot.
func (w *Walk) tool(slot int) joint.Tool {
	if slot < len(w.fitted) && w.fitted[slot] != nil {
		return w.fitted[slot].tool
	}
	return w.plan.Tools[slot]
}

// setting is that of a slot's tool in the pass under way.
func (w *Walk) setting(slot int) joint.Setting { return w.settingAt(w.pass, slot) }

// settingAt is that of a slot's tool in a pass.
func (w *Walk) settingAt(pass, slot int) joint.Setting {
	if slot < len(w.fitted) && w.fitted[slot] != nil {
		return w.fitted[slot].settings[pass]
	}
	return w.plan.Passes[pass].Settings[slot]
}

// current is the setting of the work under way, a new bolt's too.
func (w *Walk) current(slot int) joint.Setting {
	if w.redo.bolt > 0 && w.redo.next < w.redo.upTo {
		return w.settingAt(w.redo.next, slot)
	}
	return w.setting(slot)
}

// Tools are those in use, by slot.
func (w Walk) Tools() []joint.Tool {
	var in []joint.Tool
	for slot := range w.plan.Tools {
		in = append(in, w.tool(slot))
	}
	return in
}

// OtherTools are those of the job that are not in use.
func (w Walk) OtherTools() []joint.Tool {
	in := w.Tools()
	return slices.DeleteFunc(slices.Concat(w.plan.Tools, w.plan.Spare), func(t joint.Tool) bool {
		return slices.ContainsFunc(in, func(u joint.Tool) bool { return u.ID == t.ID })
	})
}

// UnderWay says that bolts of the pass or round are marked: another tool
// begins it again, or a named person lets it go on.
func (w Walk) UnderWay() bool {
	return (w.phase == phasePass || w.phase == phaseCheck) && len(w.order) > 0 || w.redo.next > 0
}

// begun is what another tool begins again: the pass or round, and where nothing of it is
// done what a new bolt has repeated alone.
func (w Walk) begun() Place {
	if len(w.order) > 0 {
		return w.Under()
	}
	return w.place()
}

// ToolChange computes what follows from another tool in a slot on a day. The
// error says which pass it cannot do; nothing has changed then.
func (w Walk) ToolChange(slot int, t joint.Tool, on joint.Date) (ToolChanged, error) {
	d := ToolChanged{Slot: slot, Tool: t, On: on}
	if slot < 0 || slot >= len(w.plan.Tools) {
		return d, fmt.Errorf("there is no tool %d", slot+1)
	}
	for i, p := range w.plan.Passes {
		set := t.Setting
		if st := w.plan.Strength; st != nil {
			set = func(torque unit.Torque, readBack unit.Share) (joint.Setting, error) {
				return st.Setting(t, torque, readBack)
			}
		}
		s, err := set(p.Settings[slot].Torque, w.plan.ReadBack)
		if err != nil {
			why := ""
			if i < w.pass {
				why = ", which a bolt with new parts would repeat"
			}
			return d, fmt.Errorf("tool %s cannot do the pass at %s%s: %w", OrNone(t.ID), p.Share.Text(), why, err)
		}
		d.Settings = append(d.Settings, s)
	}
	in := w.Tools()
	in[slot] = t
	d.Texts = toolTexts(in)
	maps.DeleteFunc(d.Texts, func(id, _ string) bool { return w.indexOf(id) < 0 })
	return d, nil
}

// OverdueWords say what of a tool is out of date on the day.
func (d ToolChanged) OverdueWords() []string {
	var words []string
	for _, f := range d.Tool.DueFindings(d.On, "") {
		if f.Severity == joint.Error {
			words = append(words, f.Text)
		}
	}
	return words
}

// changeTool puts another tool to work.
func (w *Walk) changeTool(d ToolChanged, at time.Time) error {
	if err := w.canChange(d, at); err != nil {
		return err
	}
	if d.Overdue != nil {
		if err := w.notOperator(*d.Overdue); err != nil {
			return err
		}
	}
	if d.GoOn != nil {
		if !w.UnderWay() {
			return errors.New("no bolt of this pass or round is done: there is nothing to go on with")
		}
		if err := w.notOperator(*d.GoOn); err != nil {
			return err
		}
	}
	before := OrNone(w.tool(d.Slot).ID)
	letter := strings.TrimPrefix(w.letter(d.Slot)+" ", " ")
	w.fitted = append(slices.Clone(w.fitted), make([]*fitted, len(w.plan.Tools)-len(w.fitted))...)
	w.fitted[d.Slot] = &fitted{d.Tool, d.Settings}
	w.texts = d.Texts
	w.except("tool %s%s in place of %s in %s: %s", letter, OrNone(d.Tool.ID), before, w.place().where(), strings.TrimSpace(d.Reason))
	if d.Overdue != nil {
		w.except("tool %s is out of date, allowed by %s: %s", w.ToolName(d.Slot), d.Overdue.Name, d.Overdue.Reason)
	}
	switch {
	case d.GoOn != nil:
		w.except("%s went on with the new tool, decided by %s: %s", w.begun().where(), d.GoOn.Name, d.GoOn.Reason)
	case w.UnderWay():
		w.beginAgain()
	}
	w.doubtAir("12", "13", "14", "15", "21")
	return nil
}

// canChange refuses a tool that does not fit the plan, or that it does not follow from.
func (w *Walk) canChange(d ToolChanged, at time.Time) error {
	switch {
	case d.Slot < 0 || d.Slot >= len(w.plan.Tools):
		return fmt.Errorf("there is no tool %d", d.Slot+1)
	case !slices.Contains(w.InUse(), d.Slot):
		return w.notInUse(d.Slot)
	case strings.TrimSpace(d.Reason) == "":
		return errors.New("say why the tool is changed")
	case len(d.Settings) != len(w.plan.Passes):
		return errors.New("a setting for each pass is needed")
	}
	for slot := range w.plan.Tools {
		switch t := w.tool(slot); {
		case slot == d.Slot && reflect.DeepEqual(t, d.Tool):
			return fmt.Errorf("tool %s is in use: choose hose or regulator changed", OrNone(t.ID))
		case slot != d.Slot && t.ID == d.Tool.ID && t.ID != "":
			return fmt.Errorf("tool %s is in use beside this one", t.ID)
		case slot != d.Slot && t.Gauge.ID == d.Tool.Gauge.ID && t.Gauge.ID != "":
			return fmt.Errorf("gauge %s is in use with tool %s: each tool needs its own", t.Gauge.ID, w.ToolName(slot))
		}
	}
	if err := d.Tool.Chart.Check(); err != nil {
		return err
	}
	for i, s := range d.Settings {
		want := w.plan.Passes[i].Settings[d.Slot].Torque
		if math.Abs(float64(s.Torque-want)) > 1e-6*float64(want) || !(s.Least > 0) || !s.InBand(s.Set) || !s.InBand(s.Pressure) {
			return fmt.Errorf("the setting of the new tool for the pass at %s is none", w.plan.Passes[i].Share.Text())
		}
	}
	for id, text := range d.Texts {
		if w.indexOf(id) < 0 || !slices.Contains([]string{"12", "h3"}, id) || strings.TrimSpace(text) == "" {
			return fmt.Errorf("question %q does not follow from the tool", id)
		}
	}
	// A local day is at most one day off the day in UTC.
	if days := joint.DateOf(at.UTC()).DaysUntil(d.On); days < -1 || days > 1 {
		return fmt.Errorf("the tool was judged for %s, which is not today", d.On)
	}
	if words := d.OverdueWords(); len(words) > 0 && d.Overdue == nil {
		return fmt.Errorf("%s; or a named person allows it", strings.Join(words, "; "))
	} else if len(words) == 0 && d.Overdue != nil {
		return errors.New("tool and gauge are in date: nobody has to allow them")
	}
	return nil
}

// beginAgain begins the pass or round again with another tool, and what a new
// bolt has to repeat.
func (w *Walk) beginAgain() {
	w.except("%s was begun again with the new tool", w.begun().where())
	w.redo.next = 0
	if len(w.order) == 0 {
		return
	}
	w.clearMarks()
	w.low = ""
	if w.phase == phasePass {
		w.repeat++
		w.newTool = true
		return
	}
	w.sets = and(w.sets, fmt.Sprintf("round %d again with another tool", w.round))
}

// changeAir doubts what hangs on hose and regulator.
func (w *Walk) changeAir(d AirChanged) error {
	switch {
	case d.Slot < 0 || d.Slot >= len(w.plan.Tools):
		return fmt.Errorf("there is no tool %d", d.Slot+1)
	case !slices.Contains(w.InUse(), d.Slot):
		return w.notInUse(d.Slot)
	case strings.TrimSpace(d.Reason) == "":
		return errors.New("say what was changed")
	}
	w.except("hose or regulator of tool %s changed in %s: %s", w.ToolName(d.Slot), w.place().where(), strings.TrimSpace(d.Reason))
	w.doubtAir("13", "14", "15", "21")
	return nil
}

// notInUse refuses to change a tool that stays off: it is changed when its turn comes.
func (w Walk) notInUse(slot int) error {
	return fmt.Errorf("tool %s stays off now: change it when it is to be set", w.ToolName(slot))
}

// RepeatWords, AskedWords and AirWords say what follows when a tool, or its hose
// or regulator, is changed: of several tools all are set again, since they share
// the air.
func (w Walk) RepeatWords() string {
	if w.plan.Several() {
		return TeamRepeat
	}
	return RepeatPass
}

// AskedWords are those after another tool.
func (w Walk) AskedWords() string {
	if w.plan.Several() {
		return TeamAsked
	}
	return askedWord
}

// AirWords are those after another hose or regulator.
func (w Walk) AirWords() string {
	if w.plan.Several() {
		return TeamAir
	}
	return AirWord
}

// doubtAir asks questions about tool and air again, and the pressure.
func (w *Walk) doubtAir(ids ...string) {
	w.doubt(func(q Question) bool { return slices.Contains(ids, q.ID) })
}

// text is that of a question, which follows the tool in use.
func (w Walk) text(q Question) string {
	if t, ok := w.texts[q.ID]; ok {
		return t
	}
	if q.ID == engagementQuestion && len(w.out) > 0 && w.plan.Rules >= 4 {
		return fmt.Sprintf("Has %s NO good stud, and is every other stud flush with its nuts, or beyond?", boltNames(w.out))
	}
	return q.Text
}

// QuestionText is the wording of a question now, the id itself where there is none.
func (w Walk) QuestionText(id string) string {
	if i := w.indexOf(id); i >= 0 {
		return w.text(w.plan.Questions[i])
	}
	return id
}

// ToolIn is the tool of a slot, false where the slot is none.
func (w Walk) ToolIn(slot int) (joint.Tool, bool) {
	if slot < 0 || slot >= len(w.plan.Tools) {
		return joint.Tool{}, false
	}
	return w.tool(slot), true
}

// ToolWords name a tool with its gauge and chart: "W-08, gauge G-15, chart made
// running, 1.5 bar to 6 bar".
func ToolWords(t joint.Tool) string {
	text := OrNone(t.ID) + ", gauge " + OrNone(t.Gauge.ID) + ", " + MadeIn(t)
	if len(t.Chart) > 0 {
		text += ", " + t.Gauged(t.Chart.First().Pressure) + " to " + t.Gauged(t.Chart.Last().Pressure)
	}
	return text
}

// SettingWords say what a changed tool is set to, pass by pass.
func (w Walk) SettingWords(d ToolChanged, system unit.System) []string {
	var words []string
	for i, s := range d.Settings {
		words = append(words, fmt.Sprintf("%s: %s %s, gives %s", w.plan.Passes[i].Share.Text(), d.Tool.Gauged(s.Set), State(d.Tool), s.Delivered.Text(system)))
	}
	return words
}
