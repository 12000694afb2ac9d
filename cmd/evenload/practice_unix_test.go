//go:build !windows

package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
	"evenload/sequence/practice"
)

// cells is what a terminal shows: enough of one for the frames of the program.
type cells struct {
	rows     [24][80]rune
	row, col int
	read     int // bytes
}

var control = regexp.MustCompile(`^\x1b\[(\??)([0-9;]*)([A-Za-z])|^\x1b[=>]`)

// write shows what was written to a terminal of 80x24 since, and returns what
// is still to come whole.
func (c *cells) write(raw string) (rest string) {
	for raw != "" {
		// Not the whole rest: the matcher would set aside memory for all of it.
		if m := control.FindStringSubmatch(raw[:min(len(raw), 32)]); m != nil {
			raw = raw[len(m[0]):]
			c.control(m[2], m[3])
			continue
		}
		if raw[0] == 0x1b && len(raw) < 32 || !utf8.FullRuneInString(raw) {
			return raw
		}
		r, size := utf8.DecodeRuneInString(raw)
		raw = raw[size:]
		switch {
		case r == '\r':
			c.col = 0
		case r == '\n':
			c.row = min(23, c.row+1)
		case r >= ' ' && c.col < 80:
			c.rows[c.row][c.col] = r
			c.col++
		}
	}
	return ""
}

func (c *cells) text() string {
	var lines []string
	for _, row := range c.rows {
		lines = append(lines, strings.TrimRight(string(row[:]), " "))
	}
	return strings.Join(lines, "\n")
}

func (c *cells) clear(from int) {
	for i := from; i < 24; i++ {
		for j := range c.rows[i] {
			c.rows[i][j] = ' '
		}
	}
}

func (c *cells) control(numbers, what string) {
	n := 1
	first, second, _ := strings.Cut(numbers, ";")
	if v, err := strconv.Atoi(first); err == nil && v > 0 {
		n = v
	}
	switch what {
	case "A":
		c.row = max(0, c.row-n)
	case "B":
		c.row = min(23, c.row+n)
	case "C":
		c.col = min(79, c.col+n)
	case "D":
		c.col = max(0, c.col-n)
	case "H":
		c.row, c.col = min(23, n-1), 0
		if v, err := strconv.Atoi(second); err == nil && v > 0 {
			c.col = min(79, v-1)
		}
	case "J":
		c.clear(c.row)
		if first == "2" {
			c.clear(0)
		}
	case "K":
		for j := c.col; j < 80; j++ {
			c.rows[c.row][j] = ' '
		}
	}
}

// now is what the program's terminal shows, once it rests.
func (c *cells) now(p *screen) string {
	for last := -1; ; {
		time.Sleep(25 * time.Millisecond)
		p.mu.Lock()
		raw := p.raw
		p.mu.Unlock()
		if len(raw) == last {
			return c.text()
		}
		last = len(raw)
		c.read = last - len(c.write(raw[c.read:]))
	}
}

// TestPracticeOfLevelFour is walked from the sign-on to the mark through a real
// pseudo-terminal, by reading the screen; then what it left is read.
func TestPracticeOfLevelFour(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	p := open(t, "practice", "--level", "4", "--seed", "4", "--key-rest", "1ms", "--units", "si", "--cards", dir)
	jobs, err := job.Practice()
	if err != nil {
		t.Fatal(err)
	}
	plan, _ := jobs[1].Plan(joint.DateOf(time.Now()))
	reader := trainee{plan: plan}
	p.wait("Who works") // the first frame is there
	shown, rests := "", 0
	var c cells
	c.clear(0)
	for n := 0; ; n++ {
		before := shown
		// A frame may come in parts, and late on a busy machine: the same keys once more
		// would be taken by the screen that comes next.
		for half, tries := "-", 0; half != shown || shown == before && tries < 8; tries++ {
			half = c.now(p)
			time.Sleep(40 * time.Millisecond)
			shown = c.now(p)
		}
		if strings.Contains(shown, "YOUR MARK") {
			break
		}
		keys := reader.keys(shown)
		if shown != before {
			rests = 0
		}
		if rests++; rests > 20 || keys == nil {
			t.Fatalf("after %d screens nobody knows what to do at\n%s", n, shown)
		}
		if !strings.Contains(shown, "PRACTICE on a model, not your flange") {
			t.Fatalf("not said what it is:\n%s", shown)
		}
		for _, k := range keys {
			p.send(k)
		}
	}
	if !strings.Contains(shown, "Nothing was missed") {
		t.Errorf("the mark is\n%s", shown)
	}
	p.send("q")
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("the practice ended with %v", err)
	}
	left(t, dir)
}

// left reads the card and the log of a practice that was done right.
func left(t *testing.T, dir string) {
	t.Helper()
	cards, _ := card.Find(dir)
	if len(cards) != 1 || !card.IsPractice(cards[0]) {
		t.Fatalf("cards: %v", cards)
	}
	c, err := card.Read(cards[0])
	if err != nil || !c.Opened().Practice {
		t.Fatalf("practice %v, %v", c.Opened().Practice, err)
	}
	text, err := os.ReadFile(strings.TrimSuffix(cards[0], ".jsonl") + "-log.json")
	if err != nil {
		t.Fatal(err)
	}
	var l practice.Log
	if err := json.Unmarshal(text, &l); err != nil || l.Kind != "practice" || !l.Finished || l.Mark.Total != 100 || l.Level != 4 || l.Seed != 4 || l.Seal != c.Seal() || l.Trainee != "Ann" {
		t.Errorf("%v, %s", err, text)
	}
	for _, args := range [][]string{{"record", cards[0]}, {"verify", cards[0]}, {"board", "--plain", dir}} {
		out, err := exec.Command(program, args...).CombinedOutput()
		if !strings.Contains(string(out), "PRACTICE") || (err != nil) != (args[0] == "record") {
			t.Errorf("%v: %v\n%s", args, err, out)
		}
	}
	if files, _ := filepath.Glob(filepath.Join(dir, "*-log.txt")); len(files) != 1 {
		t.Errorf("logs: %v", files)
	}
}

// trainee knows the order that he learnt, and reads everything else.
type trainee struct{ plan sequence.Plan }

var (
	plateRead  = regexp.MustCompile(`plate on the flange reads \S+(...)\.`)
	blackRead  = regexp.MustCompile(`([\d.]+) on the black`)
	feelerRead = regexp.MustCompile(`(\d+): (\d\.\d\d)`)
	doneRead   = regexp.MustCompile(`(?:^|[^\d.>])(\d+)#`)
	givesRead  = regexp.MustCompile(`Which pressure gives ([\d.]+) N`)
	chartRead  = regexp.MustCompile(`([\d.]+) bar +([\d.]+) N`)
)

func (r trainee) keys(shown string) []string {
	has := func(s string) bool { return strings.Contains(shown, s) }
	flat := strings.Join(strings.Fields(shown), " ")
	switch {
	case has("Who works"):
		return []string{"Ann\r", "\r"}
	case has("being computed"):
		return []string{""}
	case has("SPACE go on"):
		return []string{" "}
	case has("READ THE CHART"):
		return []string{chartPressure(shown) + "\r"}
	case has("THE REGULATOR"):
		if has("stands still") {
			return []string{"2\r"}
		}
		return []string{"1\r"}
	case has("A STILL NUT"):
		return []string{"2\r"}
	case has("WHICH BOLT NEXT?"):
		return []string{r.next(shown) + "\r"}
	case plateRead.MatchString(flat):
		time.Sleep(300 * time.Millisecond)
		return []string{plateRead.FindStringSubmatch(flat)[1] + "\r"}
	case has(" y yes"):
		time.Sleep(300 * time.Millisecond)
		for _, bad := range []string{"yesterday", "has just come", "each for himself", "scratch", "was in before", "springs", "halfway down", "are dry", "another tool",
			"twice as long", "no pin", "half full", "other way round", "conduit"} {
			if seen, _, _ := strings.Cut(flat, "answered"); strings.Contains(seen, bad) {
				return []string{"n"}
			}
		}
		return []string{"y"}
	case has("a accept"):
		return []string{"a", "Eva\r", "engineer\r", "seen\r"}
	case has("Feeler gauge"):
		return feelerKeys(flat)
	case blackRead.MatchString(flat):
		keys := []string{blackRead.FindStringSubmatch(flat)[1] + "\r"}
		if !has("READ AGAIN") {
			keys = append(keys, "\r")
		}
		return keys
	case has("does not stall"):
		return []string{"p", "2", "2", "\r"}
	case has("turns a little"):
		return []string{"m"}
	case has("r release"), has("r decide"):
		return []string{"r", "Eva\r", "engineer\r", "seen\r"}
	case has("READY TO CLOSE"):
		return []string{"Wim\r", "inspector\r"}
	case has("SPACE"):
		return []string{" "}
	}
	return nil
}

// next is the first bolt of the order without a mark; in a check round bolts go round.
func (r trainee) next(shown string) string {
	if strings.Contains(shown, "CHECK ROUND") {
		for b := 1; ; b++ {
			if !regexp.MustCompile(`(?:^|[^\d])` + strconv.Itoa(b) + `[=m]`).MatchString(shown) {
				return strconv.Itoa(b)
			}
		}
	}
	done := map[string]bool{}
	for _, m := range doneRead.FindAllStringSubmatch(shown, -1) {
		done[m[1]] = true
	}
	for _, s := range r.plan.Stations {
		if b := s.Text(); !done[b] {
			return b
		}
	}
	return "1"
}

// chartPressure reads the chart that is shown, straight between its lines.
func chartPressure(shown string) string {
	want, _ := strconv.ParseFloat(givesRead.FindStringSubmatch(shown)[1], 64)
	at := func(m []string) (p, t float64) {
		p, _ = strconv.ParseFloat(m[1], 64)
		t, _ = strconv.ParseFloat(m[2], 64)
		return p, t
	}
	all := chartRead.FindAllStringSubmatch(shown, -1)
	for i := 1; i < len(all); i++ {
		p0, t0 := at(all[i-1])
		if p1, t1 := at(all[i]); want <= t1 {
			return strconv.FormatFloat(p0+(want-t0)/(t1-t0)*(p1-p0), 'f', 2, 64)
		}
	}
	return "?"
}

func feelerKeys(flat string) []string {
	_, shown, _ := strings.Cut(flat, "Feeler gauge")
	shown, _, _ = strings.Cut(shown, ". ")
	all := feelerRead.FindAllStringSubmatch(shown, -1)
	var keys []string
	widest, narrowest := 0, -1
	for i, m := range all {
		keys = append(keys, m[2]+"\r")
		if m[2] > all[widest][2] {
			widest = i
		}
	}
	for i, m := range all {
		if i != widest && (narrowest < 0 || m[2] < all[narrowest][2]) {
			narrowest = i
		}
	}
	if !strings.Contains(flat, "Go once round") {
		return keys
	}
	return []string{all[widest][2] + "\r", all[widest][1] + "\r", all[narrowest][2] + "\r", all[narrowest][1] + "\r"}
}

// TestBenchKeepsItsLog: no folder is told before the first question, and a log that cannot be
// written is printed.
func TestBenchKeepsItsLog(t *testing.T) {
	run := func(dir, typed string, as func(*exec.Cmd)) (string, int) {
		cmd := exec.Command(program, "practice", "--level", "1", "--seed", "3", "--plain", "--cards", dir)
		cmd.Stdin = strings.NewReader(typed)
		as(cmd)
		out, _ := cmd.CombinedOutput()
		return string(out), cmd.ProcessState.ExitCode()
	}
	same := func(*exec.Cmd) {}
	if out, code := run(filepath.Join(t.TempDir(), "none"), "Ann\n", same); code != 1 || !strings.Contains(out, "it is no folder") || strings.Contains(out, "Who practises") {
		t.Errorf("code %d, %s", code, out)
	}
	dir := t.TempDir()
	if out, code := run(dir, "Ann\n1.5\n3\n", same); code != 0 || !strings.Contains(out, "Right is: read it back and go on.") || !strings.Contains(out, "left before its end") {
		t.Errorf("code %d, %s", code, out)
	}
	logs, err := filepath.Glob(filepath.Join(dir, "*.practice-log.txt"))
	if err != nil || len(logs) != 1 {
		t.Fatalf("%v %v", logs, err)
	}
	if text, err := os.ReadFile(logs[0]); err != nil || !strings.Contains(string(text), "0 of 1 right") || !strings.Contains(string(text), "MARK so far") {
		t.Errorf("%s %v", text, err)
	}
	dir, as := shut(t)
	if out, code := run(dir, "Ann\n1.5\n", as); code != exitDisk || !strings.Contains(out, "PRACTICE LOG") {
		t.Errorf("code %d, %s", code, out)
	}
}

// TestPracticeRefuses what it cannot simulate, before anything is asked.
func TestPracticeRefuses(t *testing.T) {
	for _, test := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"practice", "--level", "9"}, 2, "it can be 1 to 8"},
		{[]string{"practice", "../../testdata/jobs/filter-cover-10.toml"}, 1, "cannot be simulated"},
		{[]string{"practice", "../../testdata/jobs/exchanger-cover-32.toml"}, 1, "flange.outside is needed"},
		{[]string{"practice", "--level", "3", "../../testdata/jobs/strainer-8in-300.toml"}, 2, "leave it out beside a job"},
		{[]string{"practice", "--units", "metric"}, 2, "si or us"},
		{[]string{"practice", "X.practice.jsonl"}, 2, "is a card"},
	} {
		cmd := exec.Command(program, append(test.args, "--cards", t.TempDir())...)
		out, _ := cmd.CombinedOutput()
		if code := cmd.ProcessState.ExitCode(); code != test.code || !strings.Contains(string(out), test.want) {
			t.Errorf("%v: code %d, %s", test.args, code, out)
		}
	}
}
