package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"evenload/data/board"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/tui/desk"
)

// boardFlags are those of the board.
type boardFlags struct {
	plain, csv, json bool
	tool, since      string
	fresh            bool
	ascii            bool
	theme            string
}

func boardCommand() *cobra.Command {
	var f boardFlags
	c := &cobra.Command{
		Use:   "board DIR",
		Short: "Show every job and card below a folder: where it stands, what waits for whom",
		Long: `board reads every job and card below DIR and shows where each joint stands and
what waits for whom. With --tool it lists every joint that a tool touched.

The board is for an overview. evenload verify says whether a card is whole.`,
		Example: "  evenload board works\n  evenload board works --tool W-07 --since 2036-06-02 --csv",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("tool") && strings.TrimSpace(f.tool) == "" {
				return usageError{errors.New("--tool is empty: which tool, gauge or certificate")}
			}
			return showBoard(args[0], f)
		},
	}
	flags := c.Flags()
	flags.BoolVar(&f.plain, "plain", false, "one table of text")
	flags.BoolVar(&f.csv, "csv", false, "for spreadsheets")
	flags.BoolVar(&f.json, "json", false, "for other programs")
	flags.StringVar(&f.tool, "tool", "", "only the joints that this tool, gauge or certificate touched")
	flags.StringVar(&f.since, "since", "", "with --tool: from this day on, such as 2036-06-02, by the local time of each card (ever)")
	flags.BoolVar(&f.fresh, "fresh", false, "read every card again, trust nothing that was kept of an earlier look")
	flags.BoolVar(&f.ascii, "ascii", false, "plain ASCII only")
	flags.StringVar(&f.theme, "theme", "", "dark, light or mono (dark, mono without colours)")
	return c
}

func showBoard(dir string, f boardFlags) error {
	q := board.Recall{Tool: f.tool}
	switch {
	case f.plain && f.csv, f.plain && f.json, f.csv && f.json:
		return usageError{errors.New("--plain, --csv and --json are three ways to print: name one")}
	case f.since != "" && f.tool == "":
		return usageError{errors.New("--since goes with --tool: which tool or gauge")}
	case f.since != "":
		d, err := joint.ParseDate(f.since)
		if err != nil {
			return usageError{fmt.Errorf("--since: %w", err)}
		}
		q.Since = d
	}
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return usageError{fmt.Errorf("%s is no folder: name the folder that the jobs and cards lie below", dir)}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	program := board.Program(version)
	file, err := board.CacheFile(dir)
	if err != nil {
		file = "" // no folder for it: every look reads all
	}
	cache := board.LoadCache(file, program)
	if f.fresh {
		cache = board.LoadCache("", program)
	}
	can := here()
	if !f.plain && !f.csv && !f.json && !can.Lines {
		theme, err := themeOf(f.theme, f.ascii, can)
		if err != nil {
			return err
		}
		err = desk.Board(dir, cache, q, theme)
		saveCache(cache, file, program)
		return err
	}
	b, err := lookOnce(ctx, dir, cache)
	if err != nil {
		return err
	}
	saveCache(cache, file, program)
	return printBoard(b, q, f)
}

// saveCache is best effort: without it the next look is slower and says the same.
func saveCache(c *board.Cache, file, program string) {
	if file != "" {
		_ = c.Save(file, program)
	}
}

// lookOnce says on stderr how far it is, where somebody sits there and it takes long.
func lookOnce(ctx context.Context, dir string, c *board.Cache) (*board.Board, error) {
	b := board.New(dir)
	now := time.Now()
	said := now
	shows := isatty.IsTerminal(os.Stderr.Fd())
	err := board.Scan(ctx, dir, c, joint.DateOf(now), func(s board.Summary) {
		b.Add(s)
		if shows && time.Since(said) > 500*time.Millisecond {
			said = time.Now()
			n, _ := b.Seen()
			fmt.Fprintf(os.Stderr, "\r%d files read", n)
		}
	})
	if shows && said != now {
		fmt.Fprint(os.Stderr, "\r                              \r")
	}
	if err != nil {
		return nil, err
	}
	b.Settle()
	return b, nil
}

func printBoard(b *board.Board, q board.Recall, f boardFlags) error {
	now := time.Now()
	rows := b.Rows(now)
	if q.Tool != "" {
		hits, unknown := q.Find(rows)
		var err error
		switch {
		case f.json:
			err = visible.JSON(os.Stdout, q.JSON(hits, unknown))
		case f.csv:
			err = board.HitsCSV(os.Stdout, hits, unknown)
		default:
			err = board.HitsPlain(os.Stdout, q, hits, unknown)
		}
		if word := q.UnknownWord(rows); err == nil && word != "" {
			return errors.New(visible.Text(word))
		}
		return err
	}
	switch {
	case f.json:
		return visible.JSON(os.Stdout, b.JSON(rows, now))
	case f.csv:
		return board.CSV(os.Stdout, rows)
	}
	if _, n := b.Seen(); n > 0 {
		fmt.Printf("PRACTICE left out, no joint was tightened: %d\n", n)
	}
	if len(rows) == 0 {
		fmt.Println("no job and no card below", visible.Text(b.Dir()))
		return nil
	}
	return board.Plain(os.Stdout, rows, now)
}
