package bath

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, published %v", what, got, want)
	}
}

// Y. A. Cengel and J. M. Cimbala, Fluid Mechanics, example 10-2 (in the FOSSEE textbook companion; the
// printed answer from memory): ash of 50 µm and 1240 kg/m3 in air of 0.8588 kg/m3 and 1.474e-5 Pa s settles
// at 0.115 m/s by creeping flow, at Re 0.335, where the drag that waiting times use is 7 % more.
func TestPublishedSettling(t *testing.T) {
	const d, rho, mu = 50e-6, 0.8588, 1.474e-5
	v := creeping(d, 1240-rho, mu)
	near(t, "settling speed of ash, m/s", v, 0.115, 0.0005)
	near(t, "Reynolds number", rho*v*d/mu, 0.335, 0.0015)
	if w := terminalSpeed(d, 1240-rho, rho, mu); w >= v || w < 0.92*v {
		t.Errorf("with the drag of the moving air %v m/s, without %v", w, v)
	}
}
