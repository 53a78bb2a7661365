package cure

import (
	"slices"
	"strings"
	"testing"
)

// TestUnchangedIsSaid: earthing a roller and moistening an inert web move no charge; each says so, and what the metal
// charges to then: its current, by hand the change of charge · speed · width, through the 1 MΩ that is left.
func TestUnchangedIsSaid(t *testing.T) {
	m := free(t, nil)
	then := try(t, m, Earth{Station: "idler 5"}, Moisten{To: 0.6})
	list := then.Predict().Side.Notices
	if i := slices.IndexFunc(list, func(s string) bool {
		return strings.HasPrefix(s, "earth idler 5: it ends the sparks") &&
			strings.Contains(s, "nothing of the charge of the web")
	}); i < 0 {
		t.Errorf("%q", list)
	}
	if i := slices.IndexFunc(list, func(s string) bool {
		return strings.Contains(s, "the air changes nothing on the web: an inert web")
	}); i < 0 {
		t.Errorf("%q", list)
	}
	k := slices.IndexFunc(then.Conductors(), func(c ConductorPrediction) bool { return c.Station == "idler 5" })
	c := then.Conductors()[k]
	near(t, "volts through 1 MΩ", float64(c.Voltage), float64(c.Current)*1e6, 1e-6*float64(c.Voltage))
	if !(c.Voltage > 0.1 && c.Voltage < 100) {
		t.Errorf("%v on an earthed roller", c.Voltage)
	}
	// Through 1 mΩ it is some nanovolts: no instrument and nobody asks for them.
	list = try(t, m, Earth{"idler 5", 1e-3}).Predict().Side.Notices
	if !strings.HasSuffix(list[0], "it charges to at most 0.10 V then") {
		t.Errorf("%q", list)
	}
	for _, x := range []Change{Run{Speed: m.at}, Load{Station: "tension nip", Times: 0.5}} {
		for _, s := range try(t, m, x).Predict().Side.Notices {
			if strings.Contains(s, "takes nothing") || strings.Contains(s, "changes nothing") {
				t.Errorf("%v: %q", x, s)
			}
		}
	}
}
