package main

import (
	"strings"
	"testing"
)

// TestMisread: what is wrong with an argument is told by its name, the value as it was given and what is wanted, and by
// nothing that a caller of the client does not know: no params, no line, no type of Go.
func TestMisread(t *testing.T) {
	const days = `"schema":"pithball days 1","name":"n",`
	for _, c := range []struct{ method, params, field, value, want string }{
		{"forecast", `{"charge":"3 µC"}`, "charge", `"3 µC"`, "surface charge density"},
		{"forecast", `{"charge":3}`, "charge", "3", "a string"},
		{"forecast", `{"charge":"3 µC/m²"}`, "dwell", "", "a value"},
		{"compare", `{` + days + `"before":{"readings":["9 kX"]},"after":{"readings":["1 kV"]}}`, "before.readings[0]", `"9 kX"`,
			`unknown unit "kX"`},
		{"compare", `{` + days + `"before":{"readings":["9 kV"],"relativeHumidity":3},"after":{"readings":["1 kV"]}}`,
			"before.relative_humidity", "3", "a string"},
		{"compare", `{` + days + `"before":{"readings":["9 kV"]},"after":{"foo":1,"readings":["9 kV"]}}`, "after.foo", "unknown field",
			"one of label, readings"},
		{"compare", `{` + days + `"before":{"readings":["9 kV"]},"after":{"readings":["9 kV"]},"weatherSpread":"x"}`,
			"weather_spread", `"x"`, "a number"},
		{"decide", `{"line":"{}","chance":"x"}`, "chance", "a JSON string", "a number"},
		{"decide", `{"line":"{}","bogus":1}`, "bogus", "no argument", "serve -h"},
		{"survey", `{"line":3}`, "line", "a JSON number", "text"},
		{"describe", `{"speed":true}`, "speed", "a JSON bool", "text"},
		{"compute", `{"name":3}`, "name", "a JSON number", "text"},
		{"entry", `{"name":[]}`, "name", "a JSON array", "text"},
	} {
		a := ask(t, `{"id":1,"method":"`+c.method+`","params":`+c.params+`}`)[0]
		e, _ := a["error"].(map[string]any)
		d, _ := e["data"].(map[string]any)
		if d["field"] != c.field || d["value"] != c.value || !strings.Contains(d["want"].(string), c.want) {
			t.Errorf("%s %s: %v", c.method, c.params, e)
		}
		text, _ := e["message"].(string)
		if strings.Contains(text, "line 1") || strings.Contains(text, "params") && c.field != "params" {
			t.Errorf("%s %s: %q", c.method, c.params, text)
		}
	}
}
