package draft

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"evenload/data/card"
	"evenload/data/visible"
	"evenload/joint/pattern"
)

// Bounds of a register.
const (
	mostRegister = 10 << 20 // bytes
	mostRows     = 10_000
)

// Row is one row of a register: its line in the file, and its answers or why
// they cannot be read.
type Row struct {
	Line    int
	Answers Answers
	Short   string // says that cells are missing at its end, empty where none are
	Err     error
}

// ReadRegister reads a register as spreadsheets write it: a byte order mark,
// commas, semicolons or tabs, quotes and decimal commas may all be there. The
// first row names the columns as the answers are named. The error is one of the
// whole file; a row that cannot be read has its own.
func ReadRegister(in io.Reader) ([]Row, error) {
	text, err := io.ReadAll(io.LimitReader(in, mostRegister+1))
	if err != nil {
		return nil, err
	}
	if len(text) > mostRegister {
		return nil, fmt.Errorf("it is larger than %d MB, a register has a line for each joint", mostRegister>>20)
	}
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return nil, errors.New("it is UTF-16, save it as CSV in UTF-8")
	}
	if bytes.IndexByte(text, 0) >= 0 {
		return nil, errors.New("it is no text, save the register as CSV in UTF-8")
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	// Old spreadsheets end lines with a return alone.
	if !bytes.ContainsRune(text, '\n') {
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	skipped := 0
	comma, rest, named := separatorLine(text)
	if named {
		text, skipped = rest, 1
	} else {
		comma = separator(text)
	}
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.ReuseRecord = comma, -1, true
	var columns []Name
	wide := 0 // cells of the first row
	var rows []Row
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		line := skipped
		var broken *csv.ParseError
		switch {
		case errors.As(err, &broken):
			line += broken.StartLine
		case err != nil:
			return nil, err
		default:
			at, _ := r.FieldPos(0)
			line += at
		}
		switch {
		case columns == nil && err != nil:
			return nil, fmt.Errorf("line %d: %w", line, quoteError(broken))
		case columns == nil && blank(cells):
		case columns == nil:
			wide = len(cells)
			if columns, err = columnsOf(cells); err != nil {
				return nil, fmt.Errorf("line %d: %w", line, err)
			}
		case err != nil:
			rows = append(rows, Row{Line: line, Err: quoteError(broken)})
		case blank(cells):
		default:
			rows = append(rows, rowOf(line, columns, wide, cells, comma))
		}
		if len(rows) > mostRows {
			return nil, fmt.Errorf("it has more than %d rows, cut it in parts", mostRows)
		}
	}
	if columns == nil {
		return nil, errors.New("it is empty: the first row names the columns, " + known())
	}
	if len(rows) == 0 {
		return nil, errors.New("it has no row below the first one: each joint has its own")
	}
	return rows, nil
}

// quoteError says what is wrong with the quotes of a row.
func quoteError(err *csv.ParseError) error {
	if errors.Is(err, csv.ErrQuote) && err.Line > err.StartLine {
		return fmt.Errorf("a quote is opened and not closed as it should be until line %d", err.Line)
	}
	return errors.New(`quotes stand round a whole cell, and one within is written twice: ""`)
}

// separatorLine takes the line that some spreadsheets begin with: sep=;
func separatorLine(text []byte) (comma rune, rest []byte, ok bool) {
	line, rest, _ := bytes.Cut(text, []byte("\n"))
	line = bytes.TrimRight(line, "\r")
	if len(line) == 5 && strings.EqualFold(string(line[:4]), "sep=") && bytes.IndexByte([]byte(",;\t"), line[4]) >= 0 {
		return rune(line[4]), rest, true
	}
	return 0, text, false
}

// separator is the sign that stands most often between the names of the columns.
func separator(text []byte) rune {
	header := ""
	s := bufio.NewScanner(bytes.NewReader(text))
	s.Buffer(nil, mostRegister+1)
	for header == "" && s.Scan() {
		header = strings.Trim(s.Text(), ",;\t \r")
	}
	best, most := ',', 0
	for _, c := range ",;\t" {
		if n := strings.Count(header, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

func known() string {
	var all []string
	for _, q := range Columns() {
		all = append(all, string(q.Name))
	}
	return strings.Join(all, ", ")
}

// columnsOf reads the names of the columns, empty for one that is left out: a #
// before its name says so. Those without a name at the end are the empty ones
// that spreadsheets add. An unknown one is refused, not left out: it may be a
// known one with a letter wrong, whose value the template would then give.
func columnsOf(cells []string) ([]Name, error) {
	cells = slices.Clone(cells)
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	var columns []Name
	var unknown []string
	for i, c := range cells {
		n := Name(strings.ToLower(strings.NewReplacer(" ", "_", "-", "_").Replace(strings.TrimSpace(c))))
		switch {
		case strings.HasPrefix(string(n), "#"):
			n = ""
		case !slices.ContainsFunc(Columns(), func(q Question) bool { return q.Name == n }):
			unknown = append(unknown, fmt.Sprintf("%d %q", i+1, short(c)))
		case slices.Contains(columns, n):
			return nil, fmt.Errorf("two columns are called %s", n)
		}
		columns = append(columns, n)
	}
	if len(unknown) > 0 {
		return nil, fmt.Errorf("unknown column %s, known are %s; a # before its name leaves a column out", strings.Join(unknown, ", "), known())
	}
	if !slices.Contains(columns, Tag) {
		return nil, errors.New("no column is called tag, and each row needs its own: known are " + known())
	}
	return columns, nil
}

// short makes a cell fit for a message.
func short(c string) string {
	if r := []rune(c); len(r) > 60 {
		return visible.Text(string(r[:60])) + "..."
	}
	return visible.Text(c)
}

// half is what a half of a number that a comma tore looks like.
type half struct{ first, second pattern.Lazy }

// halves of a number, by the column that it stands in.
var halves = map[Name]*half{
	Target:    {pattern.Lazy{Text: `^\d+$`}, pattern.Lazy{Text: `^\d+ ?[^\d ]`}},
	Lubricant: {pattern.Lazy{Text: `[ ;]0$`}, pattern.Lazy{Text: `^\d+$`}},
}

// torn finds a decimal comma that was taken for a separator, "" for none, and its
// cell: all cells behind it would be wrong too. Neither half of it is an answer alone.
func torn(columns []Name, cells []string) (at int, number string) {
	for i, n := range columns[:min(len(columns), len(cells)-1)] {
		if h, ok := halves[n]; ok && h.first.Made().MatchString(cells[i]) && h.second.Made().MatchString(cells[i+1]) {
			return i, cells[i] + "," + cells[i+1]
		}
	}
	return 0, ""
}

// tagBefore takes the tag of a row that is refused, where it stands in one of the
// first cells, those that are surely in their columns.
func (r *Row) tagBefore(sure int, columns []Name, cells []string) {
	if i := slices.Index(columns, Tag); i < sure {
		if tag := strings.TrimSpace(cells[i]); card.CheckTag(tag) == nil {
			r.Answers[Tag] = tag
		}
	}
}

// rowOf reads one row below a first one of so many cells. Some spreadsheets leave
// out the empty cells at the end of a row; none writes more than the first row has.
func rowOf(line int, columns []Name, wide int, cells []string, comma rune) Row {
	row := Row{Line: line, Answers: Answers{}}
	if at, number := torn(columns, cells); comma == ',' && number != "" {
		row.tagBefore(at, columns, cells)
		row.Err = fmt.Errorf("a decimal comma parts two cells: write it in quotes or with a point: \"%s\"", short(number))
		return row
	}
	if len(cells) > wide {
		row.tagBefore(1, columns, cells) // any cell may be the one in two, the first is read as it stands
		row.Err = fmt.Errorf("it has %d cells, the first row has %d: look for a separator within a cell, which needs quotes", len(cells), wide)
		return row
	}
	if len(cells) < len(columns) {
		row.Short = fmt.Sprintf("the row ends after %d of %d cells, the others were taken as empty", len(cells), len(columns))
	}
	for i, c := range cells {
		c = strings.TrimSpace(c)
		switch {
		case i >= len(columns) && c == "":
			continue
		case i >= len(columns):
			row.Err = fmt.Errorf("cell %d is %q and its column has no name: name the column, with a # before the name to leave it out", i+1, short(c))
			return row
		case columns[i] == "":
			continue
		case !utf8.ValidString(c):
			row.Err = fmt.Errorf("%s is not UTF-8 text, save the register as CSV in UTF-8", columns[i])
			return row
		}
		row.Answers[columns[i]] = c
	}
	if row.Answers[Tag] == "" {
		row.Err = errors.New("it has no tag")
	}
	return row
}
