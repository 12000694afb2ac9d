package draft

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"evenload/data/job"
	"evenload/data/visible"
)

// ErrChanged is that somebody else wrote the file meanwhile.
var ErrChanged = errors.New("the file was changed by somebody else since it was read")

// write puts a file in its place as a whole: a temporary file is flushed to the
// disk and takes the name. Where old is nil, a file that is there already is an
// error (fs.ErrExist); else it has to be old still. A new file is readable by
// all, one that is written over keeps its mode. Its name is durable after syncDir.
func write(path string, text, old []byte) (err error) {
	mode := fs.FileMode(0o644)
	if old != nil {
		// The name may be a link: what it leads to is changed, the link stays.
		if path, err = filepath.EvalSymlinks(path); err != nil {
			return err
		}
		info, err := os.Stat(path)
		if err != nil {
			return err
		}
		if !info.Mode().IsRegular() {
			return fmt.Errorf("%s is no regular file and is not written over", visible.Text(path))
		}
		mode = info.Mode().Perm()
	}
	dir := filepath.Dir(path)
	temp, err := os.CreateTemp(dir, ".evenload-*.tmp")
	if err != nil {
		return err
	}
	defer func() {
		temp.Close()
		os.Remove(temp.Name()) // gone already where all went well
	}()
	if _, err := temp.Write(text); err != nil {
		return err
	}
	if err := temp.Chmod(mode); err != nil {
		return err
	}
	if err := temp.Sync(); err != nil {
		return err
	}
	if err := temp.Close(); err != nil {
		return err
	}
	if old == nil {
		err = place(temp.Name(), path)
	} else {
		now, readErr := os.ReadFile(path)
		switch {
		case readErr != nil:
			return readErr
		case !bytes.Equal(now, old):
			return fmt.Errorf("%s: %w: open it again", visible.Text(path), ErrChanged)
		}
		err = os.Rename(temp.Name(), path)
	}
	return err
}

// gone says which of what belongs to one joint and one day a job file has and the
// text that goes over it has not: whoever writes over it has to get it again. Empty
// where nothing of that is lost.
func gone(path string, old, text []byte) string {
	was, err := job.ValuesOf(path, old)
	if err != nil {
		return "what it held, which was no readable job: look whether it was approved"
	}
	now, err := job.ValuesOf(path, text)
	if err != nil {
		now = job.Values{} // it gives nothing
	}
	var all []string
	if by := was.Text("joint.approved_by"); by != "" && approvalOf(was) != approvalOf(now) {
		if on := dayOf(was.Text("joint.approved_on")); on != "" {
			by += " on " + on
		}
		all = append(all, "the approval by "+by)
	}
	for _, k := range []struct{ key, word string }{{"joint.permit", "permit"}, {"joint.work_order", "work order"}} {
		if had := was.Text(k.key); had != "" && had != now.Text(k.key) {
			all = append(all, k.word+" "+had)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return strings.Join(all, ", ")
}

// place gives a file its name where nothing has it yet. A second name for the
// file is refused where the name is taken, which a rename is not; a disk that
// has no second names gets the name reserved first.
func place(temp, path string) error {
	err := os.Link(temp, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	reserved, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if err := reserved.Close(); err != nil {
		return err
	}
	if err := os.Rename(temp, path); err != nil {
		os.Remove(path)
		return err
	}
	return nil
}

// syncDir makes a new name durable, as well as the system can: a name that is
// lost leaves the file as it was.
func syncDir(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		d.Close()
	}
}
