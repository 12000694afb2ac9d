package draft

import (
	"fmt"
	"slices"
	"strings"

	"evenload/data/job"
	"evenload/joint"
)

// answersOf reads the answers of a job file as it has them; own says which
// tools it has in itself.
func answersOf(v job.Values) (a Answers, own string) {
	behind := func(text string, keys ...string) string {
		for _, k := range keys {
			if more := v.Text(k); more != "" {
				text = strings.TrimSpace(text + " " + more)
			}
		}
		return text
	}
	a = Answers{
		Tag: v.Text("joint.tag"), Where: v.Text("joint.where"), Flange: v.Text("bolts.flange"),
		Grade: behind(v.Text("bolts.grade"), "bolts.yield"), Lubricant: behind(v.Text("friction.lubricant"), "friction.nut_factor"),
		Gasket: v.Text("gasket.type"), Tool: v.Text("tools.0.file"), Revision: v.Text("joint.revision"),
		ApprovedBy: approvalOf(v), Passes: v.Text("procedure.passes"), Rest: v.Text("procedure.rest"),
	}
	if a[Flange] == "" && v.Text("bolts.count") != "" {
		a[Flange] = v.Text("bolts.count") + " x " + v.Text("bolts.thread")
	}
	if inner, outer := v.Text("gasket.inner"), v.Text("gasket.outer"); inner != "" && outer != "" && a[Gasket] != "" {
		if n, ok := strings.CutSuffix(inner, " mm"); ok && strings.HasSuffix(outer, " mm") {
			inner = n
		}
		a[Gasket] += ", " + inner + " to " + outer
	}
	for _, k := range targetKeys {
		text := v.Text("target." + string(k.key))
		if text != "" && a[Target] == "" {
			a[Target] = behind(text, "target.area")
		}
	}
	if n := v.Len("tools"); n > 1 || n == 1 && a[Tool] == "" {
		var all []string
		for i := range n {
			name := v.Text(fmt.Sprintf("tools.%d.id", i))
			if name == "" {
				name = v.Text(fmt.Sprintf("tools.%d.file", i))
			}
			all = append(all, name)
		}
		own = strings.Join(all, ", ")
		a[Tool] = own
	}
	return a, own
}

// inPlace lets another kind of target take the place of the one in the file.
func (d *Draft) inPlace(keys []job.Change) []job.Change {
	put, old := -1, -1
	for i, c := range keys {
		if !strings.HasPrefix(c.Key, "target.") || c.Key == "target.area" {
			continue
		}
		if c.Value != nil {
			put = i
		} else if d.given.Text(c.Key) != "" {
			old = i
		}
	}
	if put < 0 || old < 0 {
		return keys
	}
	all := append([]job.Change(nil), keys...)
	all[put].PlaceOf = keys[old].Key
	if d.given.Text(keys[put].Key) != "" {
		all[put].PlaceOf = ""
		return all
	}
	return append(all[:old], all[old+1:]...)
}

// stands says that the file has the values of an answer already, which was only
// written in another way.
func (d *Draft) stands(keys []job.Change) bool {
	return !slices.ContainsFunc(keys, func(c job.Change) bool {
		text := ""
		switch v := c.Value.(type) {
		case nil:
		case []string:
			text = strings.Join(v, ", ")
		case joint.Date:
			return v.String() != dayOf(d.given.Text(c.Key))
		default:
			text = fmt.Sprint(v)
		}
		return text != d.given.Text(c.Key)
	})
}

// approvalOf is who approved a job and when, as it is answered.
func approvalOf(v job.Values) string {
	by, on := v.Text("joint.approved_by"), dayOf(v.Text("joint.approved_on"))
	if by == "" || on == "" {
		return by
	}
	return by + ", " + on
}

// dayOf is a day as it is written in a file: its value has an hour and a zone behind it.
func dayOf(text string) string {
	if day, _, found := strings.Cut(text, " "); found {
		if _, err := joint.ParseDate(day); err == nil {
			return day
		}
	}
	return text
}

// approved are the answers that an approval is of: a job that is another than was
// approved is not approved.
var approved = []Name{Tag, Flange, Grade, Lubricant, Gasket, Target, Tool, Revision, Passes, Rest}
