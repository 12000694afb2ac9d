package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"evenload/data/visible"
)

// table lines its cells up in columns. It makes every cell visible: what
// stands in a job file or on a card was typed by somebody else.
type table struct{ w *tabwriter.Writer }

func newTable(out io.Writer) table { return table{tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)} }

func (t table) row(cells ...string) {
	shown := make([]string, len(cells))
	for i, c := range cells {
		shown[i] = visible.Text(c)
	}
	fmt.Fprintln(t.w, strings.Join(shown, "\t"))
}

// head begins a part of the page.
func (t table) head(cells ...string) {
	fmt.Fprintln(t.w)
	t.row(cells...)
}
