package job

import (
	"errors"
	"fmt"
	"strings"

	"evenload/data/visible"
)

// NoTool is the fault of a job file without a tool.
const NoTool = "a tool is missing: [[tools]] with id, curve and gauge"

// Values are the values of a job file as it is written, right or wrong.
type Values struct{ has map[string]any }

// Read reads the text of a job file of bounded size.
func Read(path string) ([]byte, error) { return readFile(path) }

// ValuesOf decodes the text of a job file called name.
func ValuesOf(name string, text []byte) (Values, error) {
	var faults Faults
	top, ok := open(name, text, &faults, nil, "job")
	if !ok {
		return Values{}, faults
	}
	if top.has["curve"] != nil && top.has["joint"] == nil {
		return Values{}, fmt.Errorf("%s is the file of a tool and no job", visible.Text(name))
	}
	if top.has == nil {
		return Values{}, errors.New("the file is empty")
	}
	return Values{top.has}, nil
}

// Has says that a key is given.
func (v Values) Has(key string) bool { _, ok := valueAt(v.has, key); return ok }

// Text gives a value as text: a list with commas between, "" where it is silent
// or a table.
func (v Values) Text(key string) string {
	value, _ := valueAt(v.has, key)
	switch value := value.(type) {
	case nil, map[string]any, []map[string]any:
		return ""
	case []any:
		var all []string
		for _, one := range value {
			all = append(all, fmt.Sprint(one))
		}
		return strings.Join(all, ", ")
	default:
		return fmt.Sprint(value)
	}
}

// Len is how many entries a list has.
func (v Values) Len(key string) int {
	switch value, _ := valueAt(v.has, key); value := value.(type) {
	case []any:
		return len(value)
	case []map[string]any:
		return len(value)
	}
	return 0
}
