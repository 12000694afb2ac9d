package walk

import (
	"evenload/joint/unit"
	"evenload/sequence"
)

// measuring asks for the readings of the alignment.
func (a ask) measuring(v *View) ask {
	name, _ := shortUnit(v.System)
	var fields []field
	for _, r := range (sequence.Alignment{}).Readings(*v.Walk.Plan().Alignment) {
		hint := name + ", at most " + r.Limit.Text(v.System)
		if r.IsDifference() {
			hint += ", or " + sequence.GapsExample(v.System)
		}
		fields = append(fields, input(r.Name, "", hint, false))
	}
	a.mode, a.form = askMeasured, newForm(fields...)
	return a
}

// measured reads the form; the readings say yes or no.
func (a ask) measured(v *View) (Screen, Want) {
	name, one := shortUnit(v.System)
	var read sequence.Alignment
	for i, to := range []*unit.Length{&read.Offset, &read.Parallel, &read.Holes, &read.Gap} {
		if i >= len(a.form.fields) {
			break
		}
		parse := unit.ParseReading
		if to == &read.Parallel {
			parse = func(text, in string) (float64, error) {
				d, err := unit.ParseDifference(text, in)
				read.Widest, read.Narrowest = unit.Length(d.More*one), unit.Length(d.Less*one)
				return d.Value, err
			}
		}
		value, err := parse(a.form.value(i), name)
		if err != nil {
			a.form = a.form.back(i)
			return a, Want{Notice: a.form.fields[i].label + ": " + err.Error()}
		}
		*to = unit.Length(value * one)
	}
	return a, Want{Event: v.Walk.Aligned(a.step.Question, read), Gate: true}
}
