// Package pattern keeps regular expressions until they are used. Made all at
// once they are a good part of the time from the start to the first frame.
package pattern

import (
	"regexp"
	"sync"
)

// Lazy is an expression that is made when it is first asked for. One that is none
// panics then: each stands in the program, and a test asks for it.
func Lazy(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
