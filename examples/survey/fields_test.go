package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// samples are examples of quantities as a file has them.
var samples = map[string]string{"Length": `"25 mm"`, "Ratio": `"5%" or "0.05"`, "GaugePressure": `"0.3 bar(g)"`,
	"Speed": `"220 m/min"`, "Time": `"0.3 s"`,
	"Temperature": `"22 °C"`, "RelativeHumidity": `"45%RH"`, "Pressure": `"101.3 kPa"`, "Density": `"905 kg/m³"`,
	"VolumeResistivity": `"1e15 Ω·m"`, "SurfaceChargeDensity": `"1.74 µC/m²"`, "DisplayVoltage": `"20 kV"`,
	"Voltage":     `"40 V"`,
	"Capacitance": `"200 pF"`, "Conductivity": `"1.6 nS/m"`, "LineCurrent": `"300 µA/m"`, "Frequency": `"12000 1/h"`,
	"BasisWeight": `"115 g/m²"`, "Mass": `"12 g"`, "Charge": `"-77 nC"`, "ChargePerMass": `"-8 nC/g"`,
	"Resistance": `"0.4 Ω"`,
	"Current":    `"190 nA"`, "ForcePerWidth": `"30 kN/m"`, "VolumeFlow": `"4000 m³/h"`,
	"MassFlow": `"40 kg/h"`, "Volume": `"3200 m³"`,
	"TemperatureDifference": `"4 K"`, "Angle": `"180°"`, "LinearForce": `"30 kN/m"`, "Power": `"30 W"`,
	"ResistivityLength": ``, "string": "text", "MeterKind": "text", "RollerKind": "text", "LimitKind": "text",
	"float64": "number", "bool": "true or false", "int": "whole number",
	"Band":  `{"value": 2.2, "spread": 0.05, "kind": "exact, normal, lognormal or uniform"}`,
	"Class": "inert, adsorbing or absorbing", "Face": "A or B", "Path": "none, or a path such as earthed edge",
	"YesNo": "yes or no", "Flammables": "none, vapour, gas or dust", "Zone": "none, 0, 1, 2, 20, 21 or 22",
	"GoodsKind": "web, sheets, parts or powder", "BodyKind": "sheet, part, profile or dose", "StopKind": "text",
	"MoistureAnswer": "inert, adsorbing, absorbing or unknown",
	"Trouble":        "jam, double feed, cling, misplaced, shock, dust, spark mark or sensor trip"}

// fieldSamples are examples of the size that a field has, where that of its quantity misleads: a bar has no 12,000
// pulses an hour, and a roller does not spark at 40 V.
var fieldSamples = map[string]string{"Frequency.frequency": `"50 Hz"`, "Voltage.sparkover": `"7 kV"`,
	"Voltage.voltage": `"5 kV"`, "Voltage.start": `"4 kV"`, "Length.thickness": `"20 µm"`, "Length.width": `"1.25 m"`,
	"Length.radius": `"50 mm"`, "Length.tip": `"50 µm"`, "Length.slot": `"0.2 mm"`, "Length.hole": `"1 mm"`,
	"Length.holePitch": `"20 mm"`, "Length.placing": `"3 mm"`, "Speed.wish": `"300 m/min"`, "Length.at": `"2.6 m"`,
	"Length.gap": `"300 mm"`, "Length.zone": `"50 mm"`, "Length.core": `"76 mm"`,
	"Temperature.webTemperature": `"35 °C"`}

// goLink is a reference to the documentation of the library, which a reader of the table does not have.
var goLink = regexp.MustCompile(`,? see \[[A-Za-z.]+\]`)

// columnWords are the words, units and ranges of the columns of a survey, with an example each. TestColumnWords reads
// the examples.
var columnWords = map[string]string{
	"schema version": `"pithball survey 1"  – the constant SurveySchema, in every row`,
	"station":        `"after nip 1"  – the name of a station of the description; of a field meter a place`,
	"quantity": `"field meter"  – or over-roller voltmeter (over an earthed roller on which the web lies: the outer face ` +
		`alone), resistance to ground (of a roller, nip or winder), pail charge, decay time (time to 1/e)`,
	"face": `"A"  – or B: the face that the meter looks at; empty of a resistance`,
	"distance": `"25 mm"  – from the meter to the web, 0.1 mm … 10 m; of a field meter it must be there: without it a ` +
		`display means nothing`,
	"gap behind":         `"300 mm"  – may be empty; from the web to metal behind it; empty: that of the station`,
	"cross-web position": `"0.4 m"  – may be empty; from one edge; of several spots each its own`,
	"repeat":             `"1"  – may be empty; 1, 2, … at the same place`,
	"date and time":      `"2026-01-14 10:05"  – may be empty; also with seconds, or the day alone`,
	"line speed":         `"220 m/min"  – of a running line it must be there`,
	"running or stopped": `"running"  – or stopped`,
	"air temperature":    `"22 °C"  – may be empty; at the line, −40 … 80 °C`,
	"air humidity":       `"30 %RH"  – may be empty; at the line, over water`,
	"meter":              `"field meter"  – the name of a meter of the description; empty of a resistance`,
	"zero":               `"0 V"  – may be empty; what the meter showed away from charge; it is taken off; with its unit unless it is 0`,
	"full scale":         `"20 kV"  – may be empty; of the range in use; empty: that of the meter`,
	"value": `"1200"  – with its sign; ">20" or "<-20" beyond the range (also ≥ 20, >= 20), or "over range", "OL", "-OL" ` +
		`where the display said no more`,
	"unit":          `"V"  – V or kV, of a field meter also kV/cm or kV/in; Ω, kΩ … GΩ of a resistance; nC; s; may be empty beside "over range"`,
	"remark":        `"bar 1 off"  – may be empty; free text`,
	"roll diameter": `"0.6 m"  – the column may be missing; of the roll that a field meter reads at an unwind or winder`,
}

// TestColumnWords: the example of each column is read, and so is a row of each quantity as its words have it.
func TestColumnWords(t *testing.T) {
	example := func(name string) string {
		s, _, _ := strings.Cut(strings.TrimPrefix(columnWords[name], `"`), `"`)
		return s
	}
	all := append(survey.Columns(), survey.OptionalColumns()...)
	for _, row := range []map[string]string{{}, // all as in the table
		{"zero": "", "gap behind": "", "cross-web position": "", "repeat": "", "date and time": "", "air temperature": "",
			"air humidity": "", "full scale": "", "remark": "", "roll diameter": ""},
		{"quantity": "over-roller voltmeter", "distance": "", "gap behind": ""},
		{"quantity": "resistance to ground", "face": "", "meter": "", "distance": "", "gap behind": "", "zero": "",
			"full scale": "", "running or stopped": "stopped", "line speed": "", "value": "4", "unit": "GΩ"},
		{"quantity": "pail charge", "face": "", "meter": "", "distance": "", "zero": "", "full scale": "", "unit": "nC"},
		{"quantity": "decay time", "face": "", "meter": "", "distance": "", "zero": "", "full scale": "", "unit": "s"},
		{"value": ">20", "unit": "kV"}, {"value": "<-20", "unit": "kV"}, {"value": "OL", "unit": "V"},
		{"unit": "kV/in", "value": "3", "zero": "", "full scale": ""}} {
		var b strings.Builder
		w := csv.NewWriter(&b)
		var values []string
		for _, name := range all {
			v, given := row[name]
			if !given {
				v = example(name)
			}
			values = append(values, v)
		}
		if err := w.WriteAll([][]string{all, values}); err != nil {
			t.Fatal(err)
		}
		if _, err := survey.ReadSurvey(strings.NewReader(b.String())); err != nil {
			t.Errorf("%v: %v", row, err)
		}
	}
}

// TestFields: the table of fields that the program prints and writes beside a first
// description is that of the code: each field with how it is samples and what its
// comment says of words and ranges.
func TestFields(t *testing.T) {
	structs := map[string]*ast.StructType{}
	for _, dir := range []string{"../../line", "../../line/cure", "../../line/upkeep", "../../units/known",
		"../internal/days", "."} {
		files, _ := filepath.Glob(dir + "/*.go")
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if x, ok := n.(*ast.TypeSpec); ok {
					if s, ok := x.Type.(*ast.StructType); ok && structs[x.Name.Name] == nil {
						structs[x.Name.Name] = s
					}
					if s, ok := x.Type.(*ast.StructType); ok {
						structs[filepath.Base(dir)+"."+x.Name.Name] = s
					}
				}
				return true
			})
		}
	}
	var b strings.Builder
	fault := func(s string) { t.Error(s) }
	for _, part := range []struct{ title, root string }{
		{`Description of a web line (schema "pithball line 1")`, "Description"},
		{`Goods that are no web (schema "pithball goods 1"); the unit of the body is C/m² of a sheet, C of a part,
C/m of a profile, C/kg of a dose: 6 µC/m² are 0.000006, or "6 µC/m²" with the unit`, "Goods"},
		{"Answers of those who are responsible (-site)", "siteFile"},
		{"Eight answers for a web (start -answers)", "Answers"}, {"Eight answers for goods (start -answers)", "GoodsAnswers"},
		{`Hall and weather (-season; schema "pithball season 1")`, "seasonFile"},
		{`Two sides to compare (-days; schema "pithball days 1")`, "File"},
		{`What is known of bars and places from earlier (-care of keep; schema "pithball care 1")`, "careFile"},
		{`The same for goods (-care of keep; schema "pithball goods care 1")`, "goodsCareFile"}} {
		fmt.Fprintf(&b, "%s\n", part.title)
		if structs[part.root] == nil {
			t.Fatalf("no struct %s", part.root)
		}
		list(&b, structs, structs[part.root], "  ", map[string]bool{}, fault)
		fmt.Fprintln(&b)
	}
	b.WriteString("Changes to try (-changes; schema \"pithball changes 1\"): schema, note and changes, a list of\n")
	for _, name := range strings.Split(strings.NewReplacer(" or ", ", ").Replace(kindNames+", "+goodsKindNames), ", ") {
		build, of := kinds[name], "a web"
		switch goods := goodsKinds[name]; {
		case build == nil:
			build, of = goods, "goods"
		case goods != nil && strings.Contains(b.String(), "\"do\": \""+name+"\""):
			continue
		case goods != nil:
			of = "a web or goods"
		}
		fmt.Fprintf(&b, "  {\"do\": \"%s\", …} of %s\n", name, of)
		list(&b, structs, structs[reflect.TypeOf(build()).Elem().Name()], "    ",
			map[string]bool{"line.StationSpec": true}, fault)
	}
	b.WriteString("\nColumns of a survey of a web (-survey, CSV), a row a reading; all columns stand in the first row\n" +
		"Commas divide the columns, or semicolons or tabs: then a number may have a decimal comma (25,5 mm), and\n" +
		"one that may be two (1,500 is 1.5 or 1500) is refused\n")
	for _, name := range append(survey.Columns(), survey.OptionalColumns()...) {
		if columnWords[name] == "" {
			t.Errorf("no words for the column %s", name)
		}
		fmt.Fprintf(&b, "  %s\n", report.Wrap(name+"  "+columnWords[name], 98, "        "))
	}
	if strings.Contains(b.String(), "?") && strings.Contains(b.String(), "how is it samples") {
		t.Error("a type has no example")
	}
	kept(t, "../demo/fields.txt", b.String())
	var o, e strings.Builder
	if code := run([]string{"start", "-fields"}, &o, &e); code != 0 || o.String() != b.String() && !*update {
		t.Errorf("exit %d: start -fields does not print the table", code)
	}
}

// list writes the fields of a struct, those of structs in it indented.
func list(b *strings.Builder, structs map[string]*ast.StructType, s *ast.StructType, indent string,
	seen map[string]bool, fault func(string)) {
	for _, f := range s.Fields.List {
		if f.Tag == nil {
			continue
		}
		tag, _ := strconv.Unquote(f.Tag.Value)
		name, more, _ := strings.Cut(reflect.StructTag(tag).Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		kind, inner, many := typeOf(f.Type)
		_, plain, found := strings.Cut(kind, ".")
		if !found {
			plain = kind
		}
		how := samples[plain]
		if own := fieldSamples[plain+"."+name]; own != "" {
			how = own
		}
		sub := inner
		if sub == nil && how == "" {
			if sub = structs[kind]; sub == nil {
				sub = structs[plain]
			}
		}
		if _, named := f.Type.(*ast.MapType); named {
			how = strings.TrimSpace(`by name, {"bar 1": …}: ` + how)
		} else if many {
			how = strings.TrimSpace("list: " + how)
		}
		comment := strings.Join(strings.Fields(f.Doc.Text()+" "+f.Comment.Text()), " ")
		comment = goLink.ReplaceAllString(comment, "")
		for _, n := range f.Names { // a reader of a file knows its keys, not the names of the code
			if strings.HasPrefix(comment, n.Name+" ") ||
				n.Name != name && regexp.MustCompile(`\b`+n.Name+` (is|are|has|says|gives|stands)\b`).MatchString(comment) {
				fault(fmt.Sprintf("the text of %s speaks of %s: %s", name, n.Name, comment))
			}
		}
		if strings.HasPrefix(comment, "what stands there") {
			how = "unwind, roller, nip, ioniser, place or winder"
		}
		if strings.Contains(more, "omitempty") {
			comment = strings.TrimSpace("may be left out; " + comment)
		}
		text := name
		if how != "" {
			text += "  " + how
		}
		if comment != "" {
			text += "  – " + comment
		}
		fmt.Fprintf(b, "%s%s\n", indent, report.Wrap(text, 100-len(indent), indent+"      "))
		if sub != nil && !seen[kind] {
			if kind != "" {
				seen[kind] = true
			}
			list(b, structs, sub, indent+"  ", seen, fault)
		}
	}
}

// typeOf is the name of a type, or its fields where it has none, and whether it is a list.
func typeOf(x ast.Expr) (name string, inner *ast.StructType, many bool) {
	switch x := x.(type) {
	case *ast.Ident:
		return x.Name, nil, false
	case *ast.SelectorExpr:
		return fmt.Sprint(x.X) + "." + x.Sel.Name, nil, false
	case *ast.StarExpr:
		return typeOf(x.X)
	case *ast.ArrayType:
		name, inner, _ = typeOf(x.Elt)
		return name, inner, true
	case *ast.MapType:
		name, inner, _ = typeOf(x.Value)
		return name, inner, true
	case *ast.StructType:
		return "", x, false
	}
	return "", nil, false
}

// TestSamplesAreRead: what the table shows as an example of a quantity is read by its type.
func TestSamplesAreRead(t *testing.T) {
	for name, v := range map[string]any{"Length": new(units.Length), "GaugePressure": new(units.GaugePressure),
		"Speed": new(units.Speed), "Time": new(units.Time), "Temperature": new(units.Temperature),
		"RelativeHumidity": new(units.RelativeHumidity), "Pressure": new(units.Pressure), "Density": new(units.Density),
		"SurfaceChargeDensity": new(units.SurfaceChargeDensity), "DisplayVoltage": new(units.DisplayVoltage),
		"Voltage": new(units.Voltage), "Capacitance": new(units.Capacitance), "LineCurrent": new(units.LineCurrent),
		"Frequency": new(units.Frequency), "BasisWeight": new(units.BasisWeight), "Mass": new(units.Mass),
		"Charge": new(units.Charge), "ChargePerMass": new(units.ChargePerMass), "Resistance": new(units.Resistance),
		"Current": new(units.Current), "VolumeFlow": new(units.VolumeFlow), "Angle": new(units.Angle)} {
		if err := json.Unmarshal([]byte(samples[name]), v); samples[name] == "" || err != nil {
			t.Errorf("%s %s: %v", name, samples[name], err)
		}
	}
}
