package card

import (
	"crypto/rand"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"evenload/sequence"
)

// Endings of card files.
const (
	ending         = ".card.jsonl"
	practiceEnding = ".practice.jsonl"
)

var (
	tagForm = regexp.MustCompile(`^[A-Za-z0-9_-]([A-Za-z0-9._-]{0,62}[A-Za-z0-9_-])?$`)
	device  = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.|$)`)
)

// CheckTag says what is wrong with a tag: it becomes part of a file's name.
func CheckTag(tag string) error {
	switch {
	case tag == "":
		return errors.New("the tag is empty")
	case len(tag) > 64:
		return errors.New("the tag has more than 64 characters")
	case !tagForm.MatchString(tag):
		return errors.New("a tag has letters, digits, . _ and -, and no dot at either end")
	case device.MatchString(tag):
		return errors.New("the tag is the name of a Windows device: choose another")
	}
	return nil
}

// newName makes TAG.YYYYMMDD-RRRRRR.card.jsonl, the day that of the laptop's zone.
func newName(opened sequence.CardOpened, at time.Time) (string, error) {
	tag := opened.Plan.About.Tag
	if err := CheckTag(tag); err != nil {
		return "", err
	}
	day := at.UTC().Add(time.Duration(opened.OffsetMinutes) * time.Minute).Format("20060102")
	end := ending
	if opened.Practice {
		end = practiceEnding
	}
	return fmt.Sprintf("%s.%s-%s%s", tag, day, strings.ToLower(rand.Text()[:6]), end), nil
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
