package paper

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"io"
	"sync"
)

// The Go fonts as golang.org/x/image has them, compressed: that is a sixtieth of the
// program. They are unpacked when the first page is printed.
var (
	//go:embed fonts/Go-Regular.ttf.gz
	packedRegular []byte
	//go:embed fonts/Go-Bold.ttf.gz
	packedBold []byte

	regular = sync.OnceValue(func() []byte { return unpacked(packedRegular) })
	bold    = sync.OnceValue(func() []byte { return unpacked(packedBold) })
)

// unpacked is nothing where the file is spoilt; a test holds that it is not.
func unpacked(file []byte) []byte {
	r, err := gzip.NewReader(bytes.NewReader(file))
	if err != nil {
		return nil
	}
	ttf, err := io.ReadAll(r)
	if err != nil {
		return nil
	}
	return ttf
}
