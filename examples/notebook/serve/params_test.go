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
		{"compare", `{` + days + `"before":{"readings":["9 kX"]},"after":{"readings":["1 kV"]}}`, "before.readings[0]",
			`"9 kX"`,
			`unknown unit "kX"`},
		{"compare", `{` + days + `"before":{"readings":["9 kV"],"relativeHumidity":3},"after":{"readings":["1 kV"]}}`,
			"before.relative_humidity", "3", "a string"},
		{"compare", `{` + days + `"before":{"readings":["9 kV"]},"after":{"foo":1,"readings":["9 kV"]}}`, "after.foo",
			"no argument",
			"one of label, readings"},
		{"compare", `{` + days + `"before":{"readings":["9 kV"]},"after":{"readings":["9 kV"]},"weatherSpread":"x"}`,
			"weather_spread", `"x"`, "a number"},
		{"compare", `{` + days + `"before":{"readings":["9 kV"]},"before":1,"after":{"readings":["9 kV"]}}`, "before",
			"given twice",
			"one value"},
		{"compare", `{` + days + `"before":{"readings":["9 kV"]},"after":{"readings":["9 kV"]},"bogus":1}`, "bogus",
			"no argument",
			"weather_spread"},
		{"decide", `{"line":"{}","chance":"x"}`, "chance", `"x"`, "a number"},
		{"decide", `{"line":"{}","bogus":1}`, "bogus", "no argument", "one of line, survey"},
		{"decide", `{"line":"{}","site":{"webTemperature":"20 kg"}}`, "site.webTemperature", `"20 kg"`, "a temperature"},
		{"decide", `{"line":"{}","site":{"safty":{}}}`, "site.safty", "no argument", "one of safety"},
		{"decide", `{"line":null}`, "line", "null", "a string"},
		{"decide", `[]`, "params", "an array", "an object"},
		{"survey", `{"line":3,"survey":""}`, "line", "3", "a string"},
		{"survey", `{"line":"{}"}`, "survey", "", "a value"},
		{"survey", `{"line":"{}","survey":"","speed":"3 m/s"}`, "speed", "no argument", "one of line, survey, units"},
		{"describe", `{"line":"{}","speed":true}`, "speed", "true", "a string"},
		{"describe", `{"line":"{"}`, "line", "the document ends too early", "one object"},
		{"describe", `{"line":"{\"web\":{\"breadth\":1}}"}`, "web.breadth", "no argument", "material"},
		{"compute", `{"name":3}`, "name", "3", "a string"},
		{"compute", `{"name":"field.FieldFactor","args":[]}`, "args", "[]", "an object"},
		{"compute", `{"name":"field.FieldFactor","args":{},"bad":null}`, "bad", "null", "a string"},
		{"compute", `{"name":"field.FieldFactor","arg":{}}`, "arg", "no argument", "one of name, args, bad"},
		{"compute", `"x"`, "params", `"x"`, "an object"},
		{"entry", `{"name":[]}`, "name", "an array", "a string"},
	} {
		a := ask(t, `{"id":1,"method":"`+c.method+`","params":`+c.params+`}`)[0]
		e, _ := a["error"].(map[string]any)
		d, _ := e["data"].(map[string]any)
		if d["field"] != c.field || d["value"] != c.value || !strings.Contains(d["want"].(string), c.want) {
			t.Errorf("%s %s: %v", c.method, c.params, e)
		}
		text, _ := e["message"].(string)
		if strings.Contains(text, "line 1") && c.method != "describe" || strings.Contains(text, "params") &&
			c.field != "params" {
			t.Errorf("%s %s: %q", c.method, c.params, text)
		}
	}
}
