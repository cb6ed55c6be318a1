package bath

import (
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// Tanaka et al. (2001), equation 1, evaluated apart from this program to the fourth decimal.
func TestTanaka(t *testing.T) {
	for temp, want := range map[float64]float64{0.01: 999.8435, 4: 999.9749, 10: 999.7027, 15: 999.1026, 20: 998.2067,
		23: 997.5408, 25: 997.0470, 30: 995.6488, 35: 994.0326, 40: 992.2152} {
		if got := tanaka(temp); math.Abs(got-want) > 1e-4 {
			t.Errorf("%g °C: %.5f, want %.4f", temp, got, want)
		}
	}
}

// Kell (1975): the two values that a published implementation of Laliberté (2009) is tested with.
func TestKell(t *testing.T) {
	for temp, want := range map[float64]float64{25: 997.0448954, 50: 988.0362916} {
		if got := kell(temp); math.Abs(got-want) > 1e-6 {
			t.Errorf("%g °C: %.8f, want %.7f", temp, got, want)
		}
	}
}

// The two equations meet at 40 °C closer than the 0.004 kg/m3 by which published equations differ.
func TestWaterIsContinuous(t *testing.T) {
	if step := math.Abs(waterDensity(40.000001) - waterDensity(40)); step > 0.004 {
		t.Errorf("a step of %.4f kg/m3 at 40 °C", step)
	}
}

// IAPWS-95 (Wagner and Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387) as an independent library
// has it: Debian package python3-iapws.
func TestWaterAgainstIAPWS95(t *testing.T) {
	python := ""
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import iapws").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		t.Skip("python3-iapws is not installed here: water is not compared with IAPWS-95 (apt-get install python3-iapws)")
	}
	script := `
from iapws import IAPWS95
for i in range(0, 100):
    print(i, IAPWS95(T=max(i, 0.01) + 273.15, P=0.101325).rho)
`
	out, err := exec.Command(python, "-c", script).Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != 100 {
		t.Fatalf("%d lines from the library", len(lines))
	}
	for _, line := range lines {
		var i, rho string
		if _, err := fmt.Sscan(line, &i, &rho); err != nil {
			t.Fatal(err)
		}
		temp, _ := strconv.ParseFloat(i, 64)
		want, _ := strconv.ParseFloat(rho, 64)
		temp = math.Max(temp, 0.01)
		tol := 0.002 // Tanaka's range
		if temp > 40 {
			tol = 0.02 // Kell is on the temperature scale of 1968
		}
		if got := waterDensity(temp); math.Abs(got-want) > tol {
			t.Errorf("%g °C: %.4f, IAPWS-95 %.4f", temp, got, want)
		}
	}
}
