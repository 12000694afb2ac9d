package practice

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenload/joint"
	"evenload/joint/unit"
	"evenload/sequence"
)

// Part is a part of the mark.
type Part string

// The parts.
const (
	EvenLoad Part = "even load"
	Order    Part = "order"
	Checks   Part = "checks"
	Safety   Part = "safety"
)

// Parts are all of them, in the order of the mark.
var Parts = []Part{EvenLoad, Order, Checks, Safety}

// Task is one thing asked of the trainee, or told, before the walk's own screen.
type Task struct {
	Title  string
	Lines  []string // what there is to know
	Prompt string   // what is asked; empty: only told
	Chosen []string // answers to choose from, by number from 1; none: typed
	Picks  int      // how many bolts are answered: they can be walked to as well
	Loads  *Change  // drawn as bars round the circle
	More   bool     // the model may go on by itself to the end of this pass or round

	id    string
	part  Part
	right string
	judge func(text string) (Verdict, error)
}

// Verdict is what is said of an answer.
type Verdict struct {
	Right bool
	Text  string
	Best  string // of a wrong choice: what is right

	// Closed is, of a wrong order, by how much the flanges would be closed at each bolt, bolt 1
	// first, more than where they would be closed least.
	Closed []unit.Length

	Event sequence.Data // what follows for the walk, nil for nothing
	given string
	tells bool // nothing was asked
}

// Told says that nothing was asked.
func (v Verdict) Told() bool { return v.tells }

// told is a task that only tells.
func told(id, title string, lines ...string) Task {
	return Task{id: id, Title: title, Lines: lines, judge: func(string) (Verdict, error) { return Verdict{Right: true, tells: true}, nil }}
}

// choice is a task answered by a number; why says of each what is right or wrong with it.
func choice(id, title string, part Part, lines []string, prompt string, answers, why []string, right int) Task {
	return Task{id: id, Title: title, Lines: lines, Prompt: prompt, Chosen: answers, part: part, right: answers[right-1],
		judge: func(text string) (Verdict, error) {
			n, err := strconv.Atoi(strings.TrimSpace(text))
			if err != nil || n < 1 || n > len(answers) {
				return Verdict{}, fmt.Errorf("type a number from 1 to %d", len(answers))
			}
			v := Verdict{Right: n == right, Text: "Right. " + why[right-1], given: answers[n-1]}
			if n != right {
				v.Text, v.Best = "Wrong. "+why[n-1], answers[right-1]
			}
			return v, nil
		}}
}

// chartTask asks for the pressure of a torque off the tool's chart.
func chartTask(id string, tool joint.Tool, s joint.Setting, letter string, system unit.System) Task {
	u := tool.Gauge.Unit
	name := "the tool"
	if letter != "" {
		name = "tool " + letter
	}
	t := Task{id: id, Title: "READ THE CHART", part: Checks, right: tool.Gauged(s.Set),
		Prompt: "Pressure, " + string(u)}
	t.Lines = append(t.Lines, fmt.Sprintf("Which pressure gives %s with %s %s?", s.Torque.Text(system), name, sequence.OrNone(tool.ID)), "")
	for _, p := range tool.Chart {
		t.Lines = append(t.Lines, fmt.Sprintf("%12s   %s", tool.Gauged(p.Pressure), p.Torque.Text(system)))
	}
	made := "at rest"
	if tool.Reading == joint.Running {
		made = "with the tool running free"
	}
	t.Lines = append(t.Lines, "", fmt.Sprintf("Between two lines the chart is straight. It was made %s. The gauge has divisions of %s: read it to half of one.", made, tool.Typed(tool.Gauge.Division)))
	t.judge = func(text string) (Verdict, error) {
		typed, err := unit.ParseReading(text, string(u))
		if err != nil {
			return Verdict{}, err
		}
		return judgeChart(tool, s, u.Of(typed), system), nil
	}
	return t
}

// hair keeps the last bits of a sum from deciding.
const hair = 1e-9

// judgeChart judges a pressure read off the chart: right within half a division of what
// the chart says, or of the division that is set.
func judgeChart(tool joint.Tool, s joint.Setting, typed unit.Pressure, system unit.System) Verdict {
	half := tool.Gauge.Division/2 + s.Pressure*hair
	near := func(p unit.Pressure) bool { return unit.Pressure(math.Abs(float64(typed-p))) <= half }
	v := Verdict{Right: near(s.Pressure) || near(s.Set), given: tool.Typed(typed)}
	low, high := beside(tool.Chart, s.Pressure)
	how := fmt.Sprintf("%s lies between %s at %s and %s at %s, so the chart says %s, and the gauge is set to %s.",
		s.Torque.Text(system), low.Torque.Text(system), tool.Gauged(low.Pressure), high.Torque.Text(system), tool.Gauged(high.Pressure),
		s.Pressure.Exact(tool.Gauge.Unit)+" "+string(tool.Gauge.Unit), tool.Gauged(s.Set))
	if v.Right {
		v.Text = "Right. " + how
		return v
	}
	v.Text = "Wrong. "
	ratio := float64(typed / s.Pressure)
	torque, err := tool.Chart.Torque(typed)
	switch {
	case ratio > 10 || ratio < 0.1:
		v.Text += fmt.Sprintf("Are bar and psi mixed up? 1 bar is 14.5 psi, and this gauge shows %s. ", tool.Gauge.Unit)
	case err != nil:
		v.Text += "The chart says nothing there. "
	default:
		word := "less"
		if torque > s.Torque {
			word = "more"
		}
		v.Text += fmt.Sprintf("%s gives %s, %.0f %% %s than is meant. ", tool.Typed(typed), torque.Text(system), 100*math.Abs(float64(torque/s.Torque)-1), word)
	}
	v.Text += how
	return v
}

// beside are the points of a chart on both sides of a pressure.
func beside(c joint.Chart, p unit.Pressure) (low, high joint.Point) {
	i := slices.IndexFunc(c, func(q joint.Point) bool { return q.Pressure >= p })
	i = max(1, i)
	return c[i-1], c[i]
}

// setTask asks what to do at a regulator that somebody has turned up. Several tools share
// the air: they run, or stand still, together.
func setTask(id string, tool joint.Tool, s joint.Setting, still, several bool) Task {
	state, run := "The tool runs free", "let the tool run free, then set it"
	switch {
	case several && still:
		state = "All tools stand still, triggers off"
	case several:
		state = "All tools run free"
	case still:
		state = "The tool stands still, trigger off"
	}
	if several {
		run = "let all tools run free, then set it"
	}
	right := 1
	if still {
		right = 2
	}
	went := fmt.Sprintf("As soon as it runs the gauge falls by about %s, and the torque with it: the chart was made running.", tool.Typed(dropOf(tool)))
	why := []string{went, went,
		"More than the setting is more than the bolts are meant for: nothing is added to be sure."}
	if !still {
		why[0] = "The chart was made running, the tool runs, and the gauge shows the setting."
		why[1] = "No harm is done, but it runs free already, and the gauge shows the setting: read it back."
	}
	return choice(id, "THE REGULATOR", Safety,
		[]string{fmt.Sprintf("Your second person has turned the regulator up. %s, and the gauge shows %s.", state, tool.Gauged(s.Set))},
		"What do you do?", []string{"read it back and go on", run, "turn it up a little more, to be sure"}, why, right)
}

// dropOf is by how much the gauge of the simulated tool falls when it runs.
func dropOf(tool joint.Tool) unit.Pressure {
	return max(4*tool.Gauge.Division, unit.Pressure(0.3*unit.Bar)/tool.Gauge.Division*tool.Gauge.Division)
}

// stillTask asks what a still nut says.
func stillTask(b sequence.Bolt) Task {
	t := choice("still", "A STILL NUT", Checks,
		[]string{fmt.Sprintf("The tool stalled on bolt %d and the nut did not turn.", b)},
		"What do you know of the load of this bolt?",
		[]string{"it is the full load", "the tool could not turn it further from where it stood, no more", "it is too high"},
		[]string{
			fmt.Sprintf("Bolt %d has settled since its pass and carries a fifth less in the model, and its nut sits still all the same. A nut at rest needs more torque to start, and the tool starts with about three quarters of its stall torque (common practice).", b),
			fmt.Sprintf("Bolt %d has settled by a fifth, and its nut sits still: the tool starts with about three quarters of its stall torque (common practice).", b),
			fmt.Sprintf("Nothing says so. Bolt %d has settled since its pass and carries a fifth less in the model, and its nut sits still all the same.", b)}, 2)
	return t
}
