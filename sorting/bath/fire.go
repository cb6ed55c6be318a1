package bath

import (
	"fmt"
	"slices"
	"strings"

	"brinecut/polymers/quantity"
)

var alcoholCautions = []Caution{
	{"alcohol burns even when diluted, and its vapour can be lit: no flame, heat gun, hot plate, kettle, dryer or running printer in the room", fireSource},
	{"small amounts only, covered vessel, open window; keep it from children and pets", common},
	{"it evaporates, so the density rises: measure again before each use; it may craze ABS and polystyrene under stress", fromMemory},
}

// Flash points of ethanol and water by volume: a published list of ethanol flash points as quoted
// in a chemical safety mailing list, January 2015 (secondary). 2-propanol lies lower: pure 12 °C
// (53 °F: NIOSH Pocket Guide to Chemical Hazards, isopropyl alcohol), so 5 K are taken off.
const flashSource = "published list of ethanol flash points (secondary); 2-propanol: NIOSH Pocket Guide to Chemical Hazards"

// ethanolFlash, °C by share of volume, is read from flashSource.
var ethanolFlash = monotone(
	[]float64{0.10, 0.20, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80, 0.90, 0.96, 1},
	[]float64{49, 36, 29, 26, 24, 22, 21, 20, 17, 17, 16.6})

// flashPoint in °C of an alcohol at a mass fraction; ok is false below 10 % by volume, where
// none is listed, and for what is no alcohol.
func flashPoint(l Liquid, w float64) (t float64, ok bool) {
	if !l.Flammable() {
		return 0, false
	}
	v := float64(VolumePercent(l, quantity.Share(w)))
	if v < 0.10 {
		return 0, false
	}
	t = ethanolFlash.Predict(v)
	if l == Isopropanol {
		t -= 5
	}
	return t, true
}

// Room temperature above which an alcohol bath counts as warmed, and the distance it must keep
// from its flash point when warmer: judgement.
const (
	roomLimit   = 25 // °C
	flashMargin = 5  // K
)

// fireCautions of an alcohol bath at a temperature.
func fireCautions(l Liquid, w, temp float64) []Caution {
	flash, ok := flashPoint(l, w)
	if !ok || temp < flash-flashMargin {
		return nil
	}
	return []Caution{{fmt.Sprintf("the flash point of this bath is about %.0f °C: at %.4g °C a spark can light its vapour", flash, temp), flashSource}}
}

// alcoholRefusal is the hard stop for alcohol that is warmed or stands beside a heat source.
func alcoholRefusal(l Liquid, w, temp float64, beside []string) error {
	if !l.Flammable() {
		return nil
	}
	instead := "use it at 20 °C in a room without heat sources, or sort what floats on plain water another way (hand, marking, hot water in another room)"
	if len(beside) > 0 {
		return refuse(instead, "%s is not mixed or used beside a heat source (%s): its vapour can be lit", l, beside[0])
	}
	flash, ok := flashPoint(l, w)
	if temp > roomLimit && (!ok || temp > flash-flashMargin) {
		why := "warmed alcohol gives off vapour that can be lit"
		if ok {
			why = fmt.Sprintf("its flash point is about %.0f °C", flash)
		}
		return refuse(instead, "%s is not used at %.4g °C: %s", l, temp, why)
	}
	return nil
}

// heatSources are the names of a kit that can light the vapour of an alcohol. What is only warm
// (kettle, dryer) is left to the caution.
var heatSources = []string{"heat gun", "lighter", "hot plate", "candle", "torch"}

// heatSourcesOf picks them out of a kit.
func heatSourcesOf(kit []string) []string {
	var out []string
	for _, name := range kit {
		if slices.Contains(heatSources, strings.ToLower(strings.TrimSpace(name))) {
			out = append(out, name)
		}
	}
	return out
}
