package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"evenload/data/draft"
	"evenload/data/job"
	"evenload/data/visible"
	"evenload/joint"
	"evenload/tui/desk"
	"evenload/tui/plain"
)

// draftFlags are those of draft.
type draftFlags struct {
	plain    bool
	ascii    bool
	theme    string
	on       string
	from     string
	template string
	into     string
	force    bool
}

func draftCommand() *cobra.Command {
	var f draftFlags
	c := &cobra.Command{
		Use:   "draft [FILE]",
		Short: "Write a job file by a form, change one, or write one for each row of a register",
		Long: `Write a job file by a form of twelve answers. With the FILE of a job that is there,
change it: what is not answered anew stays as it is, comments too.

With --template, begin with the values of a job that is like it.

With --from, write a job file for each row of a register (CSV). Its first row names
the columns as the answers: tag, where, flange, grade, lubricant, gasket, target,
tool, revision, approved_by, passes, rest; also drawing, work_order, permit,
procedure, service. A # before a name leaves a column out. A template gives what
the rows leave out, but never its approval, permit and work order. A row that would
write another job for a joint with an open card is refused, with --force too.

Exit code 0: all is written or there already, or the form was left. 1: a row was
refused, a file of a row has errors as evenload check names them (a tool that is
still missing is one), or the lines of --plain ended before the job was written.`,
		Example: "  evenload draft\n  evenload draft --template DH-112-F03.toml\n  evenload draft DH-112-F03.toml\n  evenload draft --from register.csv --template DH-112-F03.toml --into jobs",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			d, err := day(f.on)
			if err != nil {
				return err
			}
			switch {
			case f.from != "" && len(args) > 0:
				return usageError{errors.New("--from writes files of its own: leave FILE out, or name it with --template")}
			case f.from != "":
				return draftMany(os.Stdout, f, d)
			case f.into != "" || f.force:
				return usageError{errors.New("--into and --force go with --from")}
			case f.template != "" && len(args) > 0:
				return usageError{errors.New("--template begins a new job, called as its tag: leave FILE out")}
			}
			return draftOne(args, f, d)
		},
	}
	flags := c.Flags()
	flags.BoolVar(&f.plain, "plain", false, "the same questions as lines, for screen readers and serial lines")
	flags.BoolVar(&f.ascii, "ascii", false, "plain ASCII only")
	flags.StringVar(&f.theme, "theme", "", "dark, light or mono (dark, mono without colours)")
	flags.StringVar(&f.on, "on", "", "the day of the work, such as 2036-06-02 (today)")
	flags.StringVar(&f.from, "from", "", "a register: a job file for each of its rows")
	flags.StringVar(&f.template, "template", "", "begin with the values of this job file; with --from, what the rows leave out")
	flags.StringVar(&f.into, "into", "", "with --from, the folder of the job files (this one)")
	flags.BoolVar(&f.force, "force", false, "with --from, write over files that are there already")
	return c
}

func draftOne(args []string, f draftFlags, on joint.Date) error {
	d := draft.New(".")
	switch {
	case len(args) > 0:
		var err error
		if d, err = draft.Open(args[0]); err != nil {
			return err
		}
	case f.template != "":
		t, err := openTemplate(os.Stderr, f.template)
		if err != nil {
			return err
		}
		if d, err = t.New("."); err != nil {
			return err
		}
	}
	can := here()
	if f.plain || can.Lines {
		path, err := plain.Draft(d, os.Stdin, os.Stdout, on)
		sayOpen(path)
		if errors.Is(err, plain.ErrEnded) {
			return errInput
		}
		return err
	}
	theme, err := themeOf(f.theme, f.ascii, can)
	if err != nil {
		return err
	}
	path, err := desk.Draft(d, theme, on)
	switch {
	case err != nil:
		return err
	case path == "":
		fmt.Println("left, nothing was written")
	default:
		sayOpen(path)
		fmt.Println("written; next: evenload check", visible.Text(path))
		fmt.Println("another like it: evenload draft --template", visible.Text(path))
	}
	return nil
}

// sayOpen tells of an open card beside a job that was written, whose walk goes on by the
// job as it was.
func sayOpen(path string) {
	if path == "" {
		return
	}
	j, _ := job.Load(path) // a tool may still be missing: the file's name is enough
	if said := draft.OpenCard(j.About.Tag, path); said != "" {
		fmt.Println("NOTE:", visible.Text(said)+": its walk goes on by the job as it was, and no new one begins before it is closed")
	}
}

// openTemplate opens a template and says what of it is not taken.
func openTemplate(to io.Writer, path string) (*draft.Template, error) {
	t, err := draft.OpenTemplate(path)
	if err != nil {
		return nil, err
	}
	for _, key := range t.Left {
		fmt.Fprintf(to, "%s: %s is not taken from the template, each joint needs its own\n", visible.Text(path), key)
	}
	return t, nil
}

// draftMany writes the files of a register and tells of each row. A row that
// was refused or whose file has errors makes the exit code 1.
func draftMany(to io.Writer, f draftFlags, on joint.Date) error {
	// It looks before it opens: to open a pipe waits for somebody to write to it.
	if info, err := os.Stat(f.from); errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("--from: there is no file %s, look at its name and folder", f.from)
	} else if err != nil {
		return fmt.Errorf("--from: %w", err)
	} else if !info.Mode().IsRegular() {
		return usageError{fmt.Errorf("--from: %s is no regular file, name a register as CSV", f.from)}
	}
	file, err := os.Open(f.from)
	if err != nil {
		return err
	}
	defer file.Close()
	rows, err := draft.ReadRegister(file)
	if err != nil {
		return fmt.Errorf("%s: %w", f.from, err)
	}
	out := bufio.NewWriter(to)
	var template *draft.Template
	if f.template != "" {
		if template, err = openTemplate(out, f.template); err != nil {
			return err
		}
	}
	into := f.into
	if into == "" {
		into = "."
	}
	if info, err := os.Stat(into); errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("--into: there is no folder %s, make it first", into)
	} else if err != nil {
		return fmt.Errorf("--into: %w", err)
	} else if !info.IsDir() {
		return usageError{fmt.Errorf("--into: %s is no folder", into)}
	}
	written, same, refused, failed := 0, 0, 0, 0
	draft.Many(rows, template, into, f.force, on, func(o draft.Outcome) {
		text := fmt.Sprintf("%s:%d: ", f.from, o.Line)
		switch {
		case o.Err != nil:
			refused++
			text += "refused: " + o.Err.Error()
			if o.Tag != "" {
				text = fmt.Sprintf("%s:%d: %s refused: %v", f.from, o.Line, o.Tag, o.Err)
			}
		case o.Same:
			same++
			text += o.File + " is there already, the same: " + o.Summary
		default:
			written++
			text += "wrote " + o.File + ": " + o.Summary
			if o.Gone != "" {
				text += "; gone with the file that was there: " + o.Gone
			}
		}
		if o.Failed {
			failed++
		}
		fmt.Fprintln(out, visible.Text(text))
		for _, u := range o.Under {
			fmt.Fprintf(out, "    %s: %s\n", u.Severity, visible.Text(u.Text))
		}
	})
	fmt.Fprintf(out, "rows: %d, written: %d, there already: %d, refused: %d; with errors that evenload check names: %d\n", len(rows), written, same, refused, failed)
	if err := out.Flush(); err != nil {
		return err
	}
	if refused+failed > 0 {
		return errInput
	}
	return nil
}
