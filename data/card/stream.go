package card

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
)

// Ending is how the reading of a card ended: after so many whole lines and
// bytes, the last with this hash, and a torn last line where there is one.
type Ending struct {
	Lines int
	Bytes int64
	Hash  string
	Torn  *Tail

	people map[string]bool // whose names stand in the lines
}

// Seal is that of the last whole line, empty when there is none.
func (e Ending) Seal() string {
	if e.Hash == "" {
		return ""
	}
	return seal(e.Hash)
}

// Stream reads a card line by line: it keeps none of them, so that its memory
// does not grow with the card. It takes and refuses what Read does. An error of
// each ends the reading and comes back as it is.
func Stream(path string, r io.Reader, each func(Entry) error) (end Ending, err error) {
	in := lineReader{from: bufio.NewReaderSize(r, 32<<10)}
	lines, before, by := newEncoder(), noHash, ""
	end.people = map[string]bool{}
	for n := 1; ; n++ {
		text, whole, err := in.next()
		switch {
		case err != nil:
			return end, fmt.Errorf("card %s: %w", path, err)
		case in.read > mostBytes:
			return end, fmt.Errorf("card %s: larger than %d MiB, which no card is: name a card", path, mostBytes>>20)
		case n > mostLines && whole:
			return end, fmt.Errorf("card %s: more than %d lines, which no card has: name a card", path, mostLines)
		case in.long == 0 && len(text) == 0 && !whole:
			if end.Lines == 0 {
				return end, fmt.Errorf("card %s: %w", path, ErrNothingRecorded)
			}
			return end, nil
		}
		size := in.read - end.Bytes
		torn := !whole
		if whole && (in.nul || bytes.IndexByte(text, 0) >= 0) {
			text = bytes.Clone(text) // to look for more may read over it
			if torn, err = in.last(); err != nil {
				return end, fmt.Errorf("card %s: %w", path, err)
			}
		}
		if torn {
			end.Torn = &Tail{Offset: end.Bytes, Bytes: int(size)}
			if end.Lines == 0 {
				return end, fmt.Errorf("card %s: %w", path, ErrNothingRecorded)
			}
			return end, nil
		}
		if in.long > 0 || len(text) > mostLineBytes {
			return end, &DamageError{path, n, end.Bytes, "the line is too long"}
		}
		e, hash, err := lines.decode(n, text, before)
		if err != nil {
			return end, &DamageError{path, n, end.Bytes, err.Error()}
		}
		if e.By != by {
			by = e.By
			end.people[by] = true
		}
		if len(end.people) > mostPeople {
			return end, fmt.Errorf("card %s: more than %d people, which no card has: name a card", path, mostPeople)
		}
		before = hash
		end.Lines, end.Bytes, end.Hash = n, in.read, hash
		if err := each(Entry{N: n, Event: e, Hash: hash}); err != nil {
			return end, err
		}
	}
}

// StreamFile is Stream of a file.
func StreamFile(path string, each func(Entry) error) (Ending, error) {
	f, err := openRegular(path)
	if err != nil {
		return Ending{}, err
	}
	defer f.Close()
	return Stream(path, f, each)
}

// openRegular opens a file for reading. It asks before it opens: opening a
// pipe would wait for a writer.
func openRegular(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("card: %w", err)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("card %s is no regular file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("card: %w", err)
	}
	return f, nil
}

// lineReader cuts a stream into lines in one piece of memory. Of a line that
// is longer than any of a card it only counts the bytes.
type lineReader struct {
	from *bufio.Reader
	line []byte
	read int64 // bytes so far
	long int64 // of them, bytes of this line that were not kept
	nul  bool  // among those was a NUL
}

// next gives a line without its line feed, which holds until the next one;
// whole says that there was one.
func (in *lineReader) next() (text []byte, whole bool, err error) {
	in.line, in.long, in.nul = in.line[:0], 0, false
	for {
		part, err := in.from.ReadSlice('\n')
		in.read += int64(len(part))
		if in.read > mostBytes {
			return nil, false, nil
		}
		if len(in.line) == 0 && err == nil { // the usual line, in the reader's own memory
			return part[:len(part)-1], true, nil
		}
		if len(in.line)+len(part) > mostLineBytes+1 {
			in.long += int64(len(part))
			in.nul = in.nul || bytes.IndexByte(part, 0) >= 0
		} else {
			in.line = append(in.line, part...)
		}
		switch {
		case err == nil && in.long > 0:
			return in.line, true, nil
		case err == nil:
			return in.line[:len(in.line)-1], true, nil
		case errors.Is(err, io.EOF):
			return in.line, false, nil
		case !errors.Is(err, bufio.ErrBufferFull):
			return nil, false, err
		}
	}
}

// last says that nothing follows the line, or why that cannot be known.
func (in *lineReader) last() (bool, error) {
	_, err := in.from.Peek(1)
	if errors.Is(err, io.EOF) {
		return true, nil
	}
	return false, err
}
