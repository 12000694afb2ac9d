package reference

import (
	"fmt"
	"strings"

	"evenload/joint/pattern"
	"evenload/joint/unit"
)

// The table writes "1 1/4", other tables "1-1/4": the name has the hyphen.
var pipes = newTable("pipe_b36_10.csv", "", OneSource, func(r Row) string { return pipeName(r.text("nps"), r.text("schedule")) })

func pipeName(nps, schedule string) string {
	return "ASME B36.10 NPS " + strings.Replace(nps, " ", "-", 1) + " schedule " + schedule
}

// Pipe is a steel pipe by schedule.
type Pipe struct {
	Name          string
	Outside, Wall unit.Length
	Mark          Mark
}

// PipeOf finds a pipe as people write it: "NPS 8 schedule 40", "8 in sch 40", "8 STD".
func PipeOf(name string) (Pipe, error) {
	rows, err := findPipe(name)
	if err != nil {
		return Pipe{}, err
	}
	r := rows[0].row
	return Pipe{Name: r.Name, Outside: unit.Length(r.number("od_in") * unit.Inch), Wall: unit.Length(r.number("wall_in") * unit.Inch), Mark: pipes.markOf(r)}, nil
}

var pipeForm = pattern.Lazy{Text: `^(?:ASME )?(?:B36\.10M? )?(?:NPS )?(\d+[ -]\d/\d|\d+/\d|\d+\.\d+|\d+) ?(?:INCH|IN|")? ?(?:SCHEDULE|SCHED\.?|SCH\.?)? ?(STD|XS|XXS|\d+)$`}

func findPipe(asked string) ([]found, error) {
	m := pipeForm.Made().FindStringSubmatch(strings.ToUpper(strings.Join(strings.Fields(asked), " ")))
	if m == nil {
		return nil, fmt.Errorf("%q is no pipe that can be looked up, write one such as %q", asked, pipeName("8", "40"))
	}
	return findRow(pipes, asked, pipeName(size(m[1]), m[2]))
}
