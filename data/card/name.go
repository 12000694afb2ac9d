package card

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"evenload/sequence"
)

// Endings of card files.
const (
	ending         = ".card.jsonl"
	practiceEnding = ".practice.jsonl"
)

// tagSigns are what a tag is made of, beside dots within.
const tagSigns = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-"

// isDevice says whether Windows takes a file's name for a device, whatever follows
// a dot: con, prn, aux, nul, com0 to com9, lpt0 to lpt9.
func isDevice(name string) bool {
	name, _, _ = strings.Cut(strings.ToLower(name), ".")
	if numbered := strings.TrimRight(name, "0123456789"); len(name) == len(numbered)+1 {
		return numbered == "com" || numbered == "lpt"
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul"}, name)
}

// CheckTag says what is wrong with a tag: it becomes part of a file's name.
func CheckTag(tag string) error {
	switch {
	case tag == "":
		return errors.New("the tag is empty")
	case len(tag) > 64:
		return errors.New("the tag has more than 64 characters")
	case strings.Trim(tag, tagSigns+".") != "" || strings.Trim(tag, ".") != tag:
		return errors.New("a tag has letters a to z, digits, . _ and -, and no dot at either end")
	case isDevice(tag):
		return errors.New("the tag is the name of a Windows device: choose another")
	}
	return nil
}

// signs is how much of the first line's hash names a card.
const signs = 6

// ID names a card on paper and in its file: tag, day in the zone of the laptop that
// opened it, and the first signs of its first line's hash.
func ID(opened sequence.CardOpened, at time.Time, hash string) string {
	day := at.UTC().Add(time.Duration(opened.OffsetMinutes) * time.Minute).Format("20060102")
	return fmt.Sprintf("%s.%s-%s", opened.Plan.About.Tag, day, hash[:signs])
}

// newName is the file's name of a new card. Older ones have six random signs in
// place of those of the hash.
func newName(opened sequence.CardOpened, at time.Time, hash string) (string, error) {
	if err := CheckTag(opened.Plan.About.Tag); err != nil {
		return "", err
	}
	end := ending
	if opened.Practice {
		end = practiceEnding
	}
	return ID(opened, at, hash) + end, nil
}

// IsCard says by its name whether a file is a card, a practice card too.
func IsCard(path string) bool { return strings.HasSuffix(path, ending) || IsPractice(path) }

// IsPractice says by its name whether a card is of a practice walk.
func IsPractice(path string) bool { return strings.HasSuffix(path, practiceEnding) }

// Find lists the cards of a folder, by name.
func Find(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("cards: %w", err)
	}
	var found []string
	for _, e := range entries {
		if e.Type().IsRegular() && IsCard(e.Name()) {
			found = append(found, filepath.Join(dir, e.Name()))
		}
	}
	return found, nil
}
