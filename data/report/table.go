package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/charmbracelet/x/ansi"

	"evenload/data/visible"
)

// table lines its cells up in columns. It makes every cell visible: what
// stands in a job file or on a card was typed by somebody else.
type table struct{ w paged }

// paged hands on whole pages: a tabwriter by itself writes every cell.
type paged struct {
	*tabwriter.Writer
	page *bufio.Writer
}

func newTable(out io.Writer) table {
	page := bufio.NewWriter(out)
	return table{paged{tabwriter.NewWriter(page, 0, 4, 2, ' ', 0), page}}
}

// Flush writes what has been gathered.
func (c paged) Flush() error {
	if err := c.Writer.Flush(); err != nil {
		return err
	}
	return c.page.Flush()
}

func (t table) row(cells ...string) {
	shown := make([]string, len(cells))
	for i, c := range cells {
		shown[i] = visible.Text(c)
	}
	fmt.Fprintln(t.w, strings.Join(shown, "\t"))
}

// pageWidth is how many signs a line of running text has: what fits on paper.
const pageWidth = 100

// wrapped prints running text over as many lines as it needs.
func (t table) wrapped(text string) {
	for i, line := range lines(text, pageWidth) {
		if i > 0 {
			line = "    " + line
		}
		t.row(line)
	}
}

// prose prints running text that is no item of a list.
func (t table) prose(text string) {
	for _, line := range lines(text, pageWidth) {
		t.row(line)
	}
}

// told prints running text beside a word.
func (t table) told(word, text string) {
	for _, line := range lines(text, pageWidth-14) {
		t.row(word, line)
		word = ""
	}
}

func lines(text string, width int) []string {
	return strings.Split(ansi.Wordwrap(visible.Text(text), width, ""), "\n")
}

// head begins a part of the page.
func (t table) head(cells ...string) {
	fmt.Fprintln(t.w)
	t.row(cells...)
}
