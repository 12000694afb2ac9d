package draft

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/data/reference"
	"evenload/joint"
	"evenload/joint/pattern"
	"evenload/joint/unit"
)

// keys are the keys of a job file that an answer fills, with their values; nil
// is for one that has to be silent. The error says why the text is no answer.
func (d *Draft) keys(name Name, text string) ([]job.Change, error) {
	if _, err := job.Quote(text); err != nil {
		return nil, err
	}
	text, err := figures(name, text)
	if err != nil {
		return nil, err
	}
	switch name {
	case Tag:
		if text != "" {
			if err := card.CheckTag(text); err != nil {
				return nil, err
			}
		}
		return one("joint.tag", text), nil
	case Where:
		return one("joint.where", text), nil
	case Flange:
		return flange(text)
	case Grade:
		return grade(text)
	case Lubricant:
		return lubricant(text)
	case Gasket:
		return gasket(text)
	case Target:
		return target(text)
	case Tool:
		return d.tool(text)
	case Revision:
		return one("joint.revision", text), nil
	case ApprovedBy:
		return approval(text)
	case Passes:
		return passes(text)
	case Rest:
		if text == "0" {
			text = "0 h" // nought is nought in any unit
		}
		if text != "" {
			if _, err := job.ParseRest(text); err != nil {
				return nil, err
			}
		}
		return one("procedure.rest", text), nil
	}
	return one("joint."+string(name), text), nil
}

// one is a key with a text, or silent.
func one(key, text string) []job.Change {
	if text == "" {
		return []job.Change{{Key: key}}
	}
	return []job.Change{{Key: key, Value: text}}
}

var (
	withDay  = pattern.Lazy{Text: `^(.*?)[ ,;]+(\d{4}-\d\d-\d\d)$`}
	otherDay = pattern.Lazy{Text: `\d{1,4} ?[./-] ?\d{1,2} ?[./-] ?\d{1,4}$`} // another spelling of a day
)

// approval takes who approved, with the day behind it.
func approval(text string) ([]job.Change, error) {
	all := []job.Change{{Key: "joint.approved_by"}, {Key: "joint.approved_on"}}
	if text == "" {
		return all, nil
	}
	if m := withDay.Made().FindStringSubmatch(text); m != nil {
		day, err := joint.ParseDate(m[2])
		if err != nil {
			return nil, err
		}
		text, all[1].Value = strings.TrimRight(m[1], " ,;"), day
	} else if other := otherDay.Made().FindString(text); other != "" {
		return nil, fmt.Errorf("%q: write the day of the approval as 2026-11-02, year first", other)
	}
	if text == "" {
		return nil, errors.New("write who approved, and the day behind it: responsible engineer, DH works, 2026-11-02")
	}
	all[0].Value = text
	return all, nil
}

var countThread = pattern.Lazy{Text: `(?i)^(\d{1,3}) ?(?:x|×|bolts?|studs?) ?(\S.*)$`}

// flange takes a flange of the tables, or number and thread of the bolts.
func flange(text string) ([]job.Change, error) {
	all := []job.Change{{Key: "bolts.flange"}, {Key: "bolts.count"}, {Key: "bolts.thread"}}
	if text == "" {
		return all, nil
	}
	f, err := reference.FlangeOf(text)
	if err == nil {
		all[0].Value = f.Name
		return all, nil
	}
	m := countThread.Made().FindStringSubmatch(text)
	if m == nil {
		return nil, noFlange(text, err)
	}
	if _, err := joint.ParseThread(m[2]); err != nil {
		return nil, err
	}
	all[1].Value, _ = strconv.Atoi(m[1])
	all[2].Value = m[2]
	return all, nil
}

var withYield = pattern.Lazy{Text: `^(.*\S)[ ,;]+(\d[\d.]* ?(?:MPa|ksi|N/mm²|N/mm2))$`}

// yieldBehind parts a grade from the yield behind it, nil for none.
func yieldBehind(text string) (name string, own []any, err error) {
	if m := withYield.Made().FindStringSubmatch(text); m != nil {
		return strings.TrimRight(m[1], ",;"), []any{m[2]}, nil
	}
	return text, []any{nil}, nil
}

// grade takes a grade of the tables, or any with its yield behind it.
func grade(text string) ([]job.Change, error) {
	all := []job.Change{{Key: "bolts.grade"}, {Key: "bolts.yield"}}
	if text == "" {
		return all, nil
	}
	own, behind, err := yieldBehind(text)
	if err != nil {
		return nil, err
	}
	all[1].Value = behind[0]
	name, err := reference.GradeName(own)
	switch {
	case err == nil:
		own = name
	case all[1].Value == nil:
		return nil, fmt.Errorf("%w; or write its yield behind it: %s 640 MPa", err, own)
	}
	all[0].Value = own
	return all, nil
}

var withFactor = pattern.Lazy{Text: `^(.*\S)[ ,;]+(\d*\.\d+)$`}

// factorBehind parts a lubricant from the nut factor behind it, nil for none.
func factorBehind(text string) (name string, own []any, err error) {
	m := withFactor.Made().FindStringSubmatch(text)
	if m == nil {
		return text, []any{nil}, nil
	}
	factor, err := strconv.ParseFloat(m[2], 64)
	if err != nil || !(factor > 0) || math.IsInf(factor, 0) {
		return "", nil, fmt.Errorf("the nut factor %q has to be above zero", m[2])
	}
	return strings.TrimRight(m[1], ",;"), []any{factor}, nil
}

// lubricant takes a lubricant of the tables, or any with its nut factor behind.
func lubricant(text string) ([]job.Change, error) {
	all := []job.Change{{Key: "friction.lubricant"}, {Key: "friction.nut_factor"}}
	if text == "" {
		return all, nil
	}
	own, behind, err := factorBehind(text)
	if err != nil {
		return nil, err
	}
	all[1].Value = behind[0]
	l, err := reference.LubricantOf(own)
	switch {
	case err == nil && l.Usual == 0 && all[1].Value == nil:
		return nil, fmt.Errorf("the table has %v to %v for %s and no usual one: write the nut factor behind it: %s 0.2", l.Least, l.Most, l.Name, own)
	case err == nil:
		own = l.Name
	case all[1].Value == nil:
		return nil, fmt.Errorf("%w; or write its nut factor behind it: %s 0.15", err, own)
	}
	all[0].Value = own
	return all, nil
}

var withSizes = pattern.Lazy{Text: `^(.*\S)[ ,;]+(\d[\d.]*) ?(mm|in)? ?(?:to|x|×|-|/) ?(\d[\d.]*) ?(mm|in)$`}

// sizesBehind parts a gasket from where it seals, nils for none.
func sizesBehind(text string) (name string, own []any, err error) {
	m := withSizes.Made().FindStringSubmatch(text)
	switch {
	case m == nil:
		return text, []any{nil, nil}, nil
	case m[3] != "" && m[3] != m[5]:
		return "", nil, fmt.Errorf("%q has two units: write where it seals in one, 115 to 158 mm", text)
	}
	return strings.TrimRight(m[1], ",;"), []any{m[2] + " " + m[5], m[4] + " " + m[5]}, nil
}

// gasket takes a gasket of the tables; behind it may stand where it seals.
func gasket(text string) ([]job.Change, error) {
	all := []job.Change{{Key: "gasket.type"}, {Key: "gasket.inner"}, {Key: "gasket.outer"}}
	if text == "" {
		return all, nil
	}
	own, behind, err := sizesBehind(text)
	if err != nil {
		return nil, err
	}
	all[1].Value, all[2].Value = behind[0], behind[1]
	g, err := reference.GasketOf(own)
	switch {
	case err == nil:
		own = g.Name
	case all[1].Value == nil:
		return nil, fmt.Errorf("%w; or write where it seals behind it: %s, 115 to 158 mm", err, own)
	}
	all[0].Value = own
	return all, nil
}

// targetKeys are the kinds of target, each by the quantity that it is.
var targetKeys = []struct {
	key   joint.TargetKind
	value func(string) (float64, error)
}{
	{joint.ByBoltStress, valueBy(unit.ParseStress)},
	{joint.ByYieldShare, valueBy(unit.ParseShare)},
	{joint.ByBoltLoad, valueBy(unit.ParseForce)},
	{joint.ByTorque, valueBy(unit.ParseTorque)},
}

func valueBy[T ~float64](parse func(string) (T, error)) func(string) (float64, error) {
	return func(text string) (float64, error) {
		v, err := parse(text)
		return float64(v), err
	}
}

var (
	onArea  = pattern.Lazy{Text: `(?i)^(.*?\S) +(?:on (?:the )?)?(root|tensile)(?: area)?$`}
	ofYield = pattern.Lazy{Text: `(?i)^(.*%) *(?:of )?yield$`}
)

// target takes a stress, a share of yield, a load or a torque.
func target(text string) ([]job.Change, error) {
	var all []job.Change
	area := ""
	if m := onArea.Made().FindStringSubmatch(text); m != nil {
		text, area = m[1], strings.ToLower(m[2])
	}
	if m := ofYield.Made().FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	found := false
	for _, k := range targetKeys {
		c := job.Change{Key: "target." + string(k.key)}
		if _, err := k.value(text); !found && text != "" && err == nil {
			c.Value, found = text, true
			if k.key != joint.ByBoltStress && area != "" {
				return nil, errors.New("an area goes with a stress only: 345 MPa root")
			}
		}
		all = append(all, c)
	}
	if !found && text != "" {
		return nil, fmt.Errorf("%q is no target, write a stress (345 MPa or 345 MPa root), a share of yield (50 %%), a bolt load (120 kN) or a torque (300 N·m)", text)
	}
	return append(all, one("target.area", area)...), nil
}

// tool takes the id or the file of a tool nearby, or any path below the folder.
func (d *Draft) tool(text string) ([]job.Change, error) {
	if d.ownTool != "" {
		return nil, fmt.Errorf("the tool is written in the job itself, change it there: %s", d.ownTool)
	}
	if text == "" {
		return []job.Change{{Key: "tools.0.file"}}, nil
	}
	var files []string
	for _, t := range d.Tools {
		if t.File == text {
			return one("tools.0.file", text), nil
		}
		if strings.EqualFold(t.Tool.ID, text) {
			files = append(files, t.File)
		}
	}
	switch {
	case len(files) == 1:
		return one("tools.0.file", files[0]), nil
	case len(files) > 1: // an old certificate may lie beside the new one
		return nil, fmt.Errorf("%q is the tool of several files, write which: %s", text, strings.Join(files, ", "))
	}
	if !strings.HasSuffix(strings.ToLower(text), ".toml") {
		ids := make([]string, len(d.Tools))
		for i, t := range d.Tools {
			ids[i] = t.Tool.ID
		}
		near := "there is none"
		if len(ids) > 0 {
			near = strings.Join(ids[:min(len(ids), 6)], ", ")
		}
		return nil, fmt.Errorf("%q is no tool of a file beside or below the job: %s", text, near)
	}
	return one("tools.0.file", text), nil
}

var (
	shareSigns   = pattern.Lazy{Text: `[,;/%\s]+`}
	decimalComma = pattern.Lazy{Text: `(\d),(\d)`}
)

// passes takes shares, with or without their signs: "30 60 100". Commas part them
// or stand before decimals, never both: each is tried.
func passes(text string) ([]job.Change, error) {
	if text == "" {
		return []job.Change{{Key: "procedure.passes"}}, nil
	}
	all, err := shares(text)
	if decimals := decimalComma.Made().ReplaceAllString(text, "$1.$2"); decimals != text && !decimalComma.Made().MatchString(decimals) {
		other, otherErr := shares(decimals)
		switch {
		case err != nil && otherErr == nil:
			all, err = other, nil
		case err == nil && otherErr == nil:
			err = fmt.Errorf("may be %s or %s: write points before decimals and spaces between", strings.Join(all, ", "), strings.Join(other, ", "))
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%q: %w", text, err)
	}
	return []job.Change{{Key: "procedure.passes", Value: all}}, nil
}

// shares reads shares that rise to 100 %.
func shares(text string) ([]string, error) {
	var all []string
	last := 0.0
	for _, part := range shareSigns.Made().Split(strings.TrimRight(text, ",;/% "), -1) {
		v, err := strconv.ParseFloat(part, 64)
		if err != nil || !(v > last) || v > 100 {
			return nil, errors.New("passes are shares that rise to 100 %, such as 30 %, 60 %, 100 %")
		}
		last = v
		all = append(all, strconv.FormatFloat(v, 'f', -1, 64)+" %")
	}
	if last != 100 {
		return nil, errors.New("the last pass is 100 %")
	}
	return all, nil
}
