package floor

// warmRequest is a small invented line with two readings: its answer calls what any answer calls.
const warmRequest = `{"line": {"name": "warm", "speed": "100 m/min", "wish": "150 m/min",
"web": {"material": "BOPP film", "thickness": "20 µm", "width": "1 m"},
"air": {"temperature": "20 °C", "relativeHumidity": "40%RH"},
"meters": [{"name": "meter", "kind": "field meter", "nominal": "25 mm", "guarded": true, "gain": "6%",
  "offset": "40 V", "spots": "20%"},
 {"name": "voltmeter", "kind": "voltmeter", "fullScale": "500 V", "gain": "4%", "offset": "3 V", "spots": "5%"}],
"stations": [{"name": "unwind", "kind": "unwind", "at": "0 m"},
 {"name": "span", "kind": "place", "at": "1 m", "past": {"radius": "50 mm", "x": "300 mm"}},
 {"name": "nip", "kind": "nip", "at": "2 m", "roller": {"radius": "60 mm", "kind": "metal", "capacity": "200 pF",
  "sparkover": "7 kV"}, "change": [{"face": "A", "median": "0 µC/m²", "spread": "12 µC/m²",
  "speed": {"value": 0.5, "spread": 0.3, "kind": "normal"}}, {"face": "B", "median": "0 µC/m²",
  "spread": "12 µC/m²", "speed": {"value": 0.5, "spread": 0.3, "kind": "normal"}}]},
 {"name": "after", "kind": "place", "at": "3 m", "gap": "300 mm"}, {"name": "winder", "kind": "winder", "at": "4 m"}]},
"rows": [{"station": "nip", "quantity": "resistance to ground", "value": "2", "unit": "Ω",
  "running or stopped": "stopped", "line speed": "0 m/min", "date and time": "2026-01-14 09:42"},
 {"station": "span", "quantity": "field meter", "face": "A", "value": "1", "unit": "kV", "meter": "meter",
  "distance": "25 mm", "running or stopped": "running", "line speed": "100 m/min"},
 {"station": "nip", "quantity": "over-roller voltmeter", "face": "A", "value": "60", "unit": "V", "meter": "voltmeter",
  "running or stopped": "running", "line speed": "100 m/min"},
 {"station": "after", "quantity": "field meter", "face": "A", "value": "8", "unit": "kV", "meter": "meter",
  "distance": "25 mm", "running or stopped": "running", "line speed": "100 m/min"}]}`

// warm answers a small line once, and shows nothing of it: a browser compiles a function when it is first called, which
// takes most of the time of a first answer, and the person still types by then.
func warm() (*Warmed, error) {
	a, err := with([]byte(warmRequest), answer)
	if err != nil {
		return nil, err
	}
	return &Warmed{Faults: a.Faults}, nil
}

// Warmed says that it is done.
type Warmed struct {
	Faults []Fault `json:"faults"`
}
