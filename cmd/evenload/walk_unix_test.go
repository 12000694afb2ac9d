//go:build !windows

package main

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"

	"evenload/data/card"
	"evenload/data/job"
	"evenload/joint"
	"evenload/sequence"
)

var program string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "evenload")
	if err != nil {
		panic(err)
	}
	program = filepath.Join(dir, "evenload")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		fmt.Println(string(out))
		os.Exit(1)
	}
	flag.Parse()
	flag.Set("test.parallel", "16") // walks wait more than they work
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// copyJob puts a shipped job file into a folder of its own.
func copyJob(t testing.TB, name string) (path string, plan sequence.Plan) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/jobs/" + name)
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	j, err := job.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	plan, _ = j.Plan(joint.DateOf(time.Now()))
	return path, plan
}

// screen is a program on a pseudo-terminal that answers no queries.
type screen struct {
	t    testing.TB
	tty  *os.File
	cmd  *exec.Cmd
	mu   sync.Mutex
	text string
	raw  string
}

var escapes = regexp.MustCompile(`\x1b\[[0-9;?]*[A-Za-z]|\x1b[=>]`)

func open(t testing.TB, args ...string) *screen {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LANG=C.UTF-8", "NO_COLOR=", "CI=")
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	p := &screen{t: t, tty: tty, cmd: cmd}
	go p.read()
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait(); tty.Close() })
	return p
}

// read keeps what the program writes.
func (p *screen) read() {
	b := make([]byte, 1<<16)
	for {
		n, err := p.tty.Read(b)
		p.mu.Lock()
		p.raw += string(b[:n])
		p.text += escapes.ReplaceAllString(string(b[:n]), "")
		p.mu.Unlock()
		if err != nil {
			return
		}
	}
}

// wait waits for a text on the screen, and forgets what came before it.
func (p *screen) wait(text string) {
	p.t.Helper()
	for range 500 {
		p.mu.Lock()
		i := strings.Index(p.text, text)
		if i >= 0 {
			p.text = p.text[i+len(text):]
		}
		p.mu.Unlock()
		if i >= 0 {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	p.t.Fatalf("%q never came; the screen had:\n%s", text, p.text)
}

func (p *screen) send(keys string) {
	time.Sleep(20 * time.Millisecond)
	io.WriteString(p.tty, keys)
}

// TestWholeJob drives a job from sign-on to the closed card through a real
// pseudo-terminal, then reads what it left.
func TestWholeJob(t *testing.T) {
	t.Parallel()
	path, plan := copyJob(t, "pump-house-6in-150.toml")
	p := open(t, "walk", "--key-rest", "1ms", path)
	p.wait("Who works")
	p.send("Ann\r")
	p.send("\r")
	p.wait("GATE   1 of 18")
	time.Sleep(300 * time.Millisecond)
	p.send("F11\r")
	for i := 2; i <= 18; i++ {
		p.wait(fmt.Sprintf("GATE   %d of 18", i))
		time.Sleep(300 * time.Millisecond)
		p.send("y")
	}
	p.wait("SNUG")
	p.send(" ")
	gaps := func() {
		for range plan.GapPlaces {
			p.send("0.02\r")
		}
	}
	p.wait("GAPS   after snug")
	gaps()
	bolts := func() {
		for i := range plan.Bolts {
			p.wait(fmt.Sprintf("%d of %d done", i, plan.Bolts))
			p.send(" ")
		}
	}
	tool := plan.Tools[0]
	read := func(pass int) string {
		return plan.Passes[pass].Settings[0].Set.Reading(tool.Gauge.Unit, tool.Gauge.Division)
	}
	for i := range plan.Passes {
		p.wait(fmt.Sprintf("SET   PASS %d of 3", i+1))
		p.send(read(i) + "\r")
		p.send("\r")
		bolts()
		p.wait("READ AGAIN")
		p.send(read(i) + "\r")
		p.wait("GAPS   after pass")
		for _, keys := range []string{"0.02\r", "1\r", "0,02\r", "2\r"} {
			p.send(keys)
		}
	}
	p.wait("SET   CHECK ROUND 1")
	p.send(read(2) + "\r")
	p.send("\r")
	bolts()
	p.wait("READ AGAIN   CHECK ROUND 1")
	p.send(read(2) + "\r")
	p.wait("THE GASKET RESTS")
	p.send("w")
	for _, keys := range []string{"Eva\r", "engineer\r", "trial\r"} {
		p.send(keys)
	}
	p.wait("GAPS   after check rounds")
	gaps()
	for i := range 3 {
		p.wait(fmt.Sprintf("CLOSING   %d of 3", i+1))
		time.Sleep(300 * time.Millisecond)
		p.send("y")
	}
	p.wait("READY TO CLOSE")
	p.send("Wim\r")
	p.send("inspector\r")
	p.wait("THE CARD IS CLOSED")
	p.send("q")
	if err := p.cmd.Wait(); err != nil {
		t.Errorf("the walk ended with %v", err)
	}
	cards, _ := card.Find(filepath.Dir(path))
	if len(cards) != 1 {
		t.Fatalf("cards: %v", cards)
	}
	out, err := exec.Command(program, "verify", cards[0]).CombinedOutput()
	if err != nil || !strings.Contains(string(out), "closed") {
		t.Errorf("verify: %v\n%s", err, out)
	}
	out, err = exec.Command(program, "record", cards[0]).CombinedOutput()
	for _, want := range []string{"pass 3, bolt 8 done", "check round 1.1, nut 8 still", "rest waived by Eva, engineer: trial", "witness Wim"} {
		if err != nil || !strings.Contains(string(out), want) {
			t.Errorf("the record does not say %q: %v", want, err)
		}
	}
	if strings.Contains(string(out), "DRAFT") {
		t.Error("the record of a closed card is a draft")
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if strings.Contains(p.raw, "\x1b]11") {
		t.Error("the terminal was asked for its background")
	}
}

// TestMuteTerminal: a terminal that answers nothing does not hold the start up.
func TestMuteTerminal(t *testing.T) {
	path, _ := copyJob(t, "pump-house-6in-150.toml")
	var times []time.Duration
	for range 5 {
		began := time.Now()
		p := open(t, "walk", path)
		p.wait("Who works")
		times = append(times, time.Since(began))
	}
	best := times[0]
	for _, d := range times {
		best = min(best, d)
	}
	// A terminal that is asked and does not answer would hold it for five seconds.
	if best > time.Second {
		t.Errorf("first frame after %v at best", best)
	}
}

// liner answers the prompts of the line mode.
type liner struct {
	in   io.Writer
	out  *bufio.Reader
	cmd  *exec.Cmd
	next string // the bolt that is offered
}

func lines(t testing.TB, path string) *liner {
	t.Helper()
	cmd := exec.Command(program, "walk", "--plain", path)
	in, _ := cmd.StdinPipe()
	out, _ := cmd.StdoutPipe()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return &liner{in: in, out: bufio.NewReader(out), cmd: cmd}
}

// takesBack stands behind a prompt that comes after the last bolt.
var takesBack = regexp.MustCompile(` \(u takes back bolt \d+\): `)

// until answers everything until a bolt is offered, and keeps its number.
func (l *liner) until(t testing.TB, plan sequence.Plan) {
	t.Helper()
	var text strings.Builder
	pass := 0
	answers := []struct{ prompt, answer string }{
		{"Name: ", "Ann"}, {"may stay empty: ", ""}, {"or no: ", "F11"}, {"yes or no: ", "yes"}, {"does not apply: ", "yes"}, {"undo the last bolt: ", "yes"}, {"undo the last answer: ", "yes"},
		{"when it is so: ", "done"}, {"gap, in: ", "0.02"}, {", in: ", "0.02"}, {"while it runs, psi: ", "SET"},
	}
	besides := 0
	for {
		b, err := l.out.ReadByte()
		if err != nil {
			t.Fatalf("the walk ended: %v\n%s", err, text.String())
		}
		text.WriteByte(b)
		s := takesBack.ReplaceAllString(text.String(), ": ")
		if m := regexp.MustCompile(`PASS (\d) of`).FindAllStringSubmatch(s, -1); m != nil {
			fmt.Sscan(m[len(m)-1][1], &pass)
		}
		if strings.HasSuffix(s, "n note: ") {
			l.next = regexp.MustCompile(`BOLT (\d+),`).FindStringSubmatch(s)[1]
			return
		}
		if strings.HasSuffix(s, "Beside bolt: ") {
			besides++
			fmt.Fprintln(l.in, besides)
			continue
		}
		for _, a := range answers {
			if strings.HasSuffix(s, a.prompt) {
				answer := a.answer
				if answer == "SET" {
					tool := plan.Tools[0]
					answer = plan.Passes[max(0, pass-1)].Settings[0].Set.Reading(tool.Gauge.Unit, tool.Gauge.Division)
				}
				fmt.Fprintln(l.in, answer)
				break
			}
		}
	}
}

// TestHeldSpace: one key every 30 ms for three seconds confirms one bolt.
func TestHeldSpace(t *testing.T) {
	path, plan := copyJob(t, "pump-house-6in-150.toml")
	l := lines(t, path)
	l.until(t, plan)
	l.cmd.Process.Kill()
	l.cmd.Wait()
	p := open(t, "walk", path)
	p.wait("Who works now")
	p.send("Ann\r")
	p.send("\r")
	p.wait("0 of 8 done")
	time.Sleep(1300 * time.Millisecond)
	for range 100 {
		io.WriteString(p.tty, " ")
		time.Sleep(30 * time.Millisecond)
	}
	time.Sleep(100 * time.Millisecond)
	cards, _ := card.Find(filepath.Dir(path))
	c, err := card.Read(cards[0])
	if err != nil {
		t.Fatal(err)
	}
	done := 0
	for _, e := range c.Events() {
		if _, ok := e.Data.(sequence.BoltDone); ok {
			done++
		}
	}
	if done != 1 {
		t.Errorf("a held key confirmed %d bolts", done)
	}
}

func TestPackagesWithoutNetwork(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(string(out)) {
		if name == "net/http" || name == "crypto/tls" {
			t.Errorf("%s is linked in", name)
		}
	}
}
