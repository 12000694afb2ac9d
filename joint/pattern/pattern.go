// Package pattern keeps regular expressions until they are used. Made all at
// once they are a good part of the time from the start to the first frame.
package pattern

import (
	"regexp"
	"sync"
)

// Lazy is an expression that is made when it is first asked for. A text that is
// none panics then: each stands in the program, and a test makes them all.
type Lazy struct {
	Text string
	once sync.Once
	made *regexp.Regexp
}

// Made is the expression.
func (l *Lazy) Made() *regexp.Regexp {
	l.once.Do(func() { l.made = regexp.MustCompile(l.Text) })
	return l.made
}
