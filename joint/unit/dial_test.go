package unit

import "testing"

func TestUnitOfADial(t *testing.T) {
	for text, ok := range map[string]bool{"bar": true, "psi": true, "kgf/cm²": true, "": true, "furlong": false, "bar\x1b[2J": false} {
		var u PressureUnit
		if err := u.UnmarshalText([]byte(text)); (err == nil) != ok || ok && string(u) != text {
			t.Errorf("%q: %q, %v", text, u, err)
		}
	}
}
