package joint

import "testing"

// By hand: 12 studs 7/8-9 UNC (tensile area 0.4617 in² = 297.9 mm², ASME B1.1)
// at 93.33 kN over a grip of 92 mm and a heavy hex nut of 55/64 in = 21.8 mm:
// 93 330 x 113.8 / (205 000 x 297.9) = 0.1739 mm.
func TestElongation(t *testing.T) {
	got := Elongation(thread(t, "7/8-9 UNC"), 93.33e3, 0.092, 0.0218, Modulus("A193 B7"))
	wantNear(t, "elongation", float64(got)*1e3, 0.1739, 0.001)
	if Modulus("A193 B8M class 2") != 195e9 || Modulus("A453 660 class D") != 195e9 || Modulus("8.8") != 205e9 {
		t.Error("the moduli are mixed up")
	}
}
