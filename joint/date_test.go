package joint

import (
	"strings"
	"testing"
	"time"
)

func TestDueFindings(t *testing.T) {
	day := func(d int) Date { return Date{2036, time.March, d} }
	later := func(days int) Date { return DateOf(time.Date(2036, time.March, 10+days, 0, 0, 0, 0, time.UTC)) }
	for what, c := range map[string]struct {
		tool, gauge Date
		want        []string
	}{
		"nothing given":    {Date{}, Date{}, []string{"warning no-due tools.1.due", "warning no-due tools.1.gauge.due"}},
		"both good":        {later(31), later(31), nil},
		"in 30 days":       {later(30), later(31), []string{"warning due-soon tools.1.due"}},
		"due today":        {day(10), later(31), []string{"warning due-soon tools.1.due"}},
		"tool late":        {day(9), later(99), []string{"error tool-due tools.1.due"}},
		"gauge late":       {later(99), day(9), []string{"error gauge-due tools.1.gauge.due"}},
		"both late":        {day(1), Date{2035, time.December, 31}, []string{"error tool-due tools.1.due", "error gauge-due tools.1.gauge.due"}},
		"only gauge given": {Date{}, day(1), []string{"warning no-due tools.1.due", "error gauge-due tools.1.gauge.due"}},
	} {
		tool := wrench()
		tool.Due, tool.Gauge.Due = c.tool, c.gauge
		var got []string
		for _, f := range tool.DueFindings(day(10), "tools.1") {
			got = append(got, string(f.Severity)+" "+f.Code+" "+f.Key)
			if Failed([]Finding{f}) != (f.Severity == Error) {
				t.Errorf("%s: severity %s", what, f.Severity)
			}
		}
		if strings.Join(got, ",") != strings.Join(c.want, ",") {
			t.Errorf("%s: %v, want %v", what, got, c.want)
		}
	}
	if Failed([]Finding{{Severity: Warning}, {Severity: Note}}) {
		t.Error("a warning and a note failed")
	}
}

func TestDate(t *testing.T) {
	for _, s := range []string{"", "2036-6-2", "2036-02-30", "02.06.2036", "2036-06-02T10:00:00Z"} {
		if d, err := ParseDate(s); err == nil {
			t.Errorf("%q was read as %v", s, d)
		}
	}
	// Civil days: a change to summer time does not shorten the count.
	for _, c := range []struct {
		from, to string
		days     int
	}{{"2036-03-29", "2036-03-31", 2}, {"2036-02-28", "2036-03-01", 2}, {"2035-02-28", "2035-03-01", 1}, {"2036-01-01", "2035-12-31", -1}} {
		from, err1 := ParseDate(c.from)
		to, err2 := ParseDate(c.to)
		if err1 != nil || err2 != nil || from.DaysUntil(to) != c.days || from.Before(to) != (c.days > 0) {
			t.Errorf("%s to %s is %d days, want %d", c.from, c.to, from.DaysUntil(to), c.days)
		}
	}
	// A moment falls on the day of its own zone.
	if got := DateOf(time.Date(2036, 6, 2, 0, 30, 0, 0, time.FixedZone("", 2*3600))); got != (Date{2036, time.June, 2}) {
		t.Errorf("day %v", got)
	}
	for _, d := range []Date{{}, {2036, time.June, 2}} {
		text, _ := d.MarshalText()
		back := Date{1, 1, 1}
		if err := back.UnmarshalText(text); err != nil || back != d {
			t.Errorf("%q reads back as %v, %v", text, back, err)
		}
	}
}
