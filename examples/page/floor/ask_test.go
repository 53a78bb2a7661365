package floor

import (
	"encoding/json"
	"maps"
	"math"
	"strconv"
	"strings"
	"testing"
)

// none is the answer that opens every change.
var none = map[string]string{"flammables": "none", "zone": "none", "decidedBy": "invented"}

// ask makes one request of the demonstration, with more fields than that, and reads its answer.
func ask(t testing.TB, name string, more map[string]any, dst any) {
	t.Helper()
	q := map[string]any{}
	if err := json.Unmarshal(demo(t), &q); err != nil {
		t.Fatal(err)
	}
	maps.Copy(q, more)
	b, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(Do(name, b), dst); err != nil {
		t.Fatal(err)
	}
}

// first reads the number that a span such as "−13 (−19 … −6.7)" begins with, behind a word.
func first(t testing.TB, s, after string) float64 {
	t.Helper()
	_, s, ok := strings.Cut(s, after)
	v, err := strconv.ParseFloat(strings.ReplaceAll(strings.SplitN(strings.TrimSpace(s), " ", 2)[0], "−", "-"), 64)
	if !ok || err != nil {
		t.Fatalf("%q after %q: %v", s, after, err)
	}
	return v
}

// TestExpectBefore: at a place that was read, what is expected is what is shown beside the readings. Where all
// readings of a place are taken away, they fall into the band that is then expected of them, as nine in ten should,
// and the band is narrower than the one without any reading.
func TestExpectBefore(t *testing.T) {
	var a Answer
	ask(t, "answer", nil, &a)
	var q files
	if err := json.Unmarshal(demo(t), &q); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	inside, all, narrower := 0, 0, 0
	for i, r := range q.Rows {
		if a.Shown[i].Expected == "" || seen[r["station"]] {
			continue
		}
		seen[r["station"]] = true
		look := map[string]string{"station": r["station"], "quantity": r["quantity"], "face": r["face"],
			"distance": r["distance"], "meter": r["meter"]}
		var e, without, before Expected
		ask(t, "expect", map[string]any{"look": look}, &e)
		if len(e.Faults) > 0 || e.Assumed || e.Text != a.Shown[i].Expected {
			t.Errorf("%s: %+v, beside the reading %s", r["station"], e, a.Shown[i].Expected)
		}
		rest := []Row{}
		var values []float64
		for _, x := range q.Rows {
			if x["station"] != r["station"] || x["quantity"] != r["quantity"] {
				rest = append(rest, x)
			} else if v, err := strconv.ParseFloat(x["value"], 64); err != nil {
				t.Fatal(err)
			} else if x["unit"] == "kV" {
				values = append(values, 1e3*v)
			} else {
				values = append(values, v)
			}
		}
		ask(t, "expect", map[string]any{"rows": rest, "look": look}, &without)
		ask(t, "expect", map[string]any{"rows": []Row{}, "look": look}, &before)
		for _, v := range values {
			all++
			if v >= without.Band[0] && v <= without.Band[2] {
				inside++
			}
		}
		if without.Band[2]-without.Band[0] < before.Band[2]-before.Band[0] {
			narrower++
		}
	}
	t.Logf("%d of %d readings inside, %d of %d bands narrower", inside, all, narrower, len(seen))
	if all < 30 || inside < all*8/10 || narrower < len(seen)*8/10 {
		t.Errorf("%d of %d readings inside, %d of %d bands narrower", inside, all, narrower, len(seen))
	}
}

// TestExpectAssumed: without a reading the description speaks, of either sign alike; the station after the nip can show
// more than the one after the unwind, and a reading over a roller in volts.
func TestExpectAssumed(t *testing.T) {
	look := func(station, quantity, meter string) Expected {
		var e Expected
		ask(t, "expect", map[string]any{"rows": []Row{}, "look": map[string]string{"station": station, "quantity": quantity,
			"face": "A", "distance": "25 mm", "meter": meter}}, &e)
		if len(e.Faults) > 0 || !e.Assumed {
			t.Fatalf("%s: %+v", station, e)
		}
		if !(math.Abs(e.Band[0]+e.Band[2]) <= 0.15*(e.Band[2]-e.Band[0])) {
			t.Errorf("%s: %v leans to one side", station, e.Band)
		}
		return e
	}
	a1, a4 := look("A1 after unwind", "field meter", "meter 1"), look("A4 after nip", "field meter", "meter 1")
	if !(a4.Band[2] > 1.3*a1.Band[2]) {
		t.Errorf("after the nip up to %v V, after the unwind %v V", a4.Band[2], a1.Band[2])
	}
	if v := look("tension nip", "over-roller voltmeter", "voltmeter 1"); !strings.HasSuffix(v.Text, " V") {
		t.Errorf("%+v", v)
	}
	var e Expected
	ask(t, "expect", map[string]any{"look": map[string]string{"station": "nowhere", "quantity": "field meter", "face": "A",
		"distance": "25 mm", "meter": "meter 1"}}, &e)
	if len(e.Faults) == 0 {
		t.Error("a station that does not exist is expected to show something")
	}
}

// TestChanges: each change that the page offers, with what it must do to the faces after the nip.
func TestChanges(t *testing.T) {
	tryOne := func(c change) Tried {
		t.Helper()
		var r Tried
		ask(t, "try", map[string]any{"changes": []change{c}, "safety": none}, &r)
		if len(r.Faults) > 0 || len(r.Names) != 1 {
			t.Fatalf("%+v: %+v", c, r.Faults)
		}
		return r
	}
	after := func(r Tried) (now, then float64) {
		for _, s := range r.Stations {
			if s.Name == "A4 after nip" {
				return first(t, s.Faces, "A "), first(t, s.FacesThen, "A ")
			}
		}
		t.Fatal("no A4")
		return 0, 0
	}
	// A tenth of the strength at the nip, or a tenth of its load to the power 0.58, is far less charge on face A.
	if now, then := after(tryOne(change{Do: "cover", Station: "tension nip", Face: "A",
		Times: "0.1"})); !(then < 0.3*now) {
		t.Errorf("cover: %v, then %v", now, then)
	}
	if now, then := after(tryOne(change{Do: "load", Station: "tension nip", Times: "0.1"})); !(then < 0.45*now &&
		then > 0.1*now) {
		t.Errorf("load: %v, then %v", now, then)
	}
	if now, then := after(tryOne(change{Do: "load", Station: "tension nip", Times: "2"})); !(then > 1.2*now) {
		t.Errorf("load twice: %v, then %v", now, then)
	}
	if now, then := after(tryOne(change{Do: "wrap", Station: "tension nip", Times: "0.3"})); !(then < now) {
		t.Errorf("wrap: %v, then %v", now, then)
	}
	if now, then := after(tryOne(change{Do: "run", Speed: "300 m/min"})); !(then > now) {
		t.Errorf("faster: %v, then %v", now, then)
	}
	// Film takes up no water: damp or warm air does nothing to it.
	for _, c := range []change{{Do: "moisten", To: "50%RH"}, {Do: "warm", To: "30 °C"}} {
		if now, then := after(tryOne(c)); now != then {
			t.Errorf("%s: %v, then %v", c.Do, now, then)
		}
	}
	for _, c := range []change{{Do: "earth", Station: "idler 5"}, {Do: "switch off", Station: "bar B1"},
		{Do: "switch on", Station: "bar B2"}, {Do: "clean", Station: "bar B1"}, {Do: "remove", Station: "idler 4"},
		{Do: "core", Station: "winder"}, {Do: "move", Station: "bar B1", To: "3 m", Gap: "250 mm", Face: "B"}} {
		tryOne(c)
	}
	// A second bar behind B2, in a free span, leaves less net charge at the place behind it.
	var r, again Tried
	ask(t, "try", map[string]any{"safety": none,
		"changes": []change{{Do: "add", Station: "bar B3", To: "3.6 m", Gap: "300 mm"}}},
		&r)
	ask(t, "try", map[string]any{"changes": []change{{Do: "add", Station: "bar B3", To: "3.6 m"}}}, &again)
	for _, s := range r.Stations {
		if s.Name == "A4 after nip" && !(math.Abs(first(t, "x"+s.NetThen, "x")) < 0.8*math.Abs(first(t, "x"+s.Net, "x"))) {
			t.Errorf("with a bar before it: %s, without %s", s.NetThen, s.Net)
		}
	}
	if len(r.Faults) > 0 || len(again.Faults) != 1 || !strings.Contains(again.Faults[0].Text, "not before") {
		t.Errorf("%+v %+v", r.Faults, again.Faults)
	}
	for _, c := range []change{{Do: "load", Station: "tension nip", Times: "half"}, {Do: "wrap", Station: "idler 4"},
		{Do: "cover", Station: "tension nip", Face: "C"}, {Do: "add", To: "3 m"}, {Do: "fly"}, {Do: "moisten", To: "x"}} {
		var r Tried
		ask(t, "try", map[string]any{"changes": []change{c}, "safety": none}, &r)
		if len(r.Faults) == 0 {
			t.Errorf("%+v was tried", c)
		}
	}
}

// TestWeatherTakenOut: two days at 29.5 and 37 %RH of sheets that leak for 0.3 s, with decay times of 0.84 s at 35 %RH
// and 0.12 s at 45 %RH. By hand: log₁₀ τ falls by 0.0845 per %RH, τ is 2.45 s and 0.569 s, and the weather alone makes
// exp(−0.3/0.569)/exp(−0.3/2.45) = 0.667 of the display.
func TestWeatherTakenOut(t *testing.T) {
	row := func(at, value, humidity string) Row {
		return Row{"station": "A4 after nip", "quantity": "field meter", "face": "A", "distance": "25 mm",
			"date and time": at,
			"line speed":    "220 m/min", "running or stopped": "running", "air temperature": "27 °C", "air humidity": humidity,
			"meter": "meter 1", "zero": "0 V", "value": value, "unit": "V", "repeat": "1"}
	}
	rows := []Row{}
	for _, v := range []string{"13800", "12190", "7720"} {
		rows = append(rows, row("2026-01-14 10:00", v, "29.5%RH"))
	}
	for _, v := range []string{"6100", "7420", "6650"} {
		rows = append(rows, row("2026-09-14 10:00", v, "37%RH"))
	}
	decay := func(s, humidity string) Row {
		return Row{"station": "A4 after nip", "quantity": "decay time", "date and time": "2026-01-14 12:00",
			"line speed": "0 m/min", "running or stopped": "stopped", "air temperature": "27 °C", "air humidity": humidity,
			"value": s, "unit": "s", "repeat": "1"}
	}
	q := map[string]any{"rows": rows, "station": "A4 after nip", "moment": "2026-05-01 00:00", "dwell": "0.3 s"}
	var c Compared
	ask(t, "compare", q, &c)
	if c.Weather != "law" || !strings.Contains(c.Says, "not taken out") {
		t.Errorf("%+v", c)
	}
	q["rows"] = append(rows, decay("0.84", "35%RH"), decay("0.12", "45%RH"))
	c = Compared{}
	ask(t, "compare", q, &c)
	if c.Weather != "" || len(c.Faults) > 0 || !strings.HasPrefix(c.Says, "the weather alone gives 0.67, seen 0.60") {
		t.Errorf("%+v", c)
	}
	delete(q, "dwell")
	c = Compared{}
	if ask(t, "compare", q, &c); c.Weather != "dwell" {
		t.Errorf("%+v", c)
	}
}
