package joint

import (
	"fmt"
	"time"
)

// Date is a day of the calendar, without a time or a zone; the zero value
// means that no date is given.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// DateOf is the day on which t falls in its own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// ParseDate reads "2036-06-02".
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return Date{}, fmt.Errorf("%q is not a date, write one such as 2036-06-02", s)
	}
	return DateOf(t), nil
}

// IsZero says that no date is given.
func (d Date) IsZero() bool { return d == Date{} }

// Before says whether d is an earlier day than other.
func (d Date) Before(other Date) bool { return d.utc().Before(other.utc()) }

// DaysUntil counts the days from d to other, negative when other is earlier.
func (d Date) DaysUntil(other Date) int { return int(other.utc().Sub(d.utc()).Hours() / 24) }

func (d Date) utc() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// String prints the date as 2036-06-02, the zero date as nothing.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// MarshalText and UnmarshalText keep a date as String prints it.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Date) UnmarshalText(text []byte) (err error) {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	*d, err = ParseDate(string(text))
	return err
}
