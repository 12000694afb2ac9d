package draw

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// cell is one place of the character grid. The second place of a character of
// two cells is taken and holds nothing.
type cell struct {
	text  string
	role  Role
	taken bool
}

type grid [][]cell

func newGrid(w, h int) grid {
	g := make(grid, h)
	all := make([]cell, w*h)
	for i := range g {
		g[i] = all[i*w : (i+1)*w]
	}
	return g
}

// free says that n cells from x on in row y are inside and empty, and that the
// cells at their two sides are empty too.
func (g grid) free(x, y, n int) bool {
	if y < 0 || y >= len(g) || x < 0 || x+n > len(g[y]) {
		return false
	}
	for i := max(0, x-1); i < min(len(g[y]), x+n+1); i++ {
		if g[y][i].taken {
			return false
		}
	}
	return true
}

// put writes text; what would stand outside is left out.
func (g grid) put(x, y int, text string, role Role) {
	if y < 0 || y >= len(g) {
		return
	}
	for text != "" {
		cluster, wide := ansi.FirstGraphemeCluster(text, ansi.GraphemeWidth)
		text = text[len(cluster):]
		if x >= 0 && x+wide <= len(g[y]) && wide > 0 {
			g[y][x] = cell{cluster, role, true}
			for i := 1; i < wide; i++ {
				g[y][x+i] = cell{taken: true, role: role}
			}
		}
		x += wide
	}
}

// lines gives the rows without the spaces at their ends.
func (g grid) lines(t Theme) []string {
	lines := make([]string, len(g))
	var line, part strings.Builder
	for i, row := range g {
		end := len(row)
		for end > 0 && !row[end-1].taken {
			end--
		}
		line.Reset()
		for j := 0; j < end; {
			role := row[j].role
			part.Reset()
			for ; j < end && row[j].role == role; j++ {
				if row[j].taken {
					part.WriteString(row[j].text)
				} else {
					part.WriteByte(' ')
				}
			}
			line.WriteString(t.Paint(role, part.String()))
		}
		lines[i] = line.String()
	}
	return lines
}
