package structure_test

import (
	"encoding"
	"errors"
	"fmt"
	"go/ast"
	"go/token"
	"path"
	"reflect"
	"regexp"
	"sort"
	"strings"
	"testing"

	"example.org/pithball/charge"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/decay"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/humidity"
	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/ionflow/transport"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/testdata"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// enums are the exported types of small integers that have names.
var enums = []any{charge.Mode(0), charge.LiquidFlow(0), charge.Stage(0), charge.Cloud(0), charge.PowderClass(0),
	field.Facing(0), field.Spark(0), field.ReadingFlaws(0), field.FacesKnown(0), gas.Counter(0),
	hazard.ConductorKind(0), hazard.GasGroup(0), hazard.DischargeKind(0), hazard.NoticeID(0), hazard.Sex(0),
	decay.Path(0), decay.ResistanceClass(0), decay.Measure(0), decay.Finding(0), decay.Model(0),
	sheet.AntistatVerdict(0), sheet.Support(0),
	humidity.Held(0), humidity.Reference(0), humidity.Stress(0), humidity.Equation(0), humidity.Class(0),
	humidity.AirModel(0), humidity.Psychrometer(0), humidity.FlowState(0), humidity.Branch(0),
	ionflow.EmitterKind(0), ionflow.TipLaw(0), ionflow.MobilityLaw(0), ionflow.RecombinationLaw(0), ionflow.Regime(0),
	ionflow.Loss(0),
	jet.JetKind(0), transport.WallCondition(0),
	line.Face(0), line.StationKind(0), line.Mechanism(0), line.Quantity(0),
	line.MeterKind(0), line.RollerKind(0), line.LimitKind(0), line.Trouble(0), line.YesNo(0),
	survey.AnswerKind(0), upkeep.Flammables(0), upkeep.Zone(0), upkeep.GoodsKind(0),
	cure.Step(0), cure.BodyKind(0), cure.StopKind(0), cure.MoistureAnswer(0),
	testdata.Use(0), testdata.Uncertainty(0),
	units.Edition(0), units.System(0), units.GasReference(0), known.Provenance(0), known.BandKind(0), known.Validity(0)}

// unnamed is what String gives for a value without a name: "Type(3)".
var unnamed = regexp.MustCompile(`\(-?\d+\)$`)

// TestEnums: every exported integer type with names, of all packages that users
// can import, writes them as text and reads the same value back; a value without a
// name and a name without a value are refused with a field error, and the value
// stays as it was. An empty text may stand for the zero value only.
func TestEnums(t *testing.T) {
	tried := map[string]bool{}
	for _, e := range enums {
		typ := reflect.TypeOf(e)
		tried[strings.TrimPrefix(typ.PkgPath(), module+"/")+"."+typ.Name()] = true
		if fault := roundTrip(typ); fault != "" {
			t.Errorf("%v: %s", typ, fault)
		}
	}
	var found []string
	for name := range namedIntegers(t) {
		if found = append(found, name); !tried[name] {
			t.Errorf("%s has names but is not tried here", name)
		}
	}
	sort.Strings(found)
	if len(found) < 40 {
		t.Errorf("only %d found: %v", len(found), found)
	}
}

// roundTrip says what is wrong with the text of an integer type.
func roundTrip(typ reflect.Type) string {
	if !reflect.PointerTo(typ).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) ||
		!typ.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return "MarshalText or UnmarshalText is missing"
	}
	named := 0
	none := reflect.New(typ)
	if err := none.Interface().(encoding.TextUnmarshaler).UnmarshalText(nil); err == nil && !none.Elem().IsZero() {
		return fmt.Sprintf("an empty text is read as %v", none.Elem().Interface())
	}
	for i := range 256 {
		v := reflect.New(typ)
		if typ.Kind() >= reflect.Uint && typ.Kind() <= reflect.Uintptr {
			v.Elem().SetUint(uint64(i))
		} else {
			v.Elem().SetInt(int64(i))
		}
		back := reflect.New(typ)
		u := back.Interface().(encoding.TextUnmarshaler)
		text, err := v.Elem().Interface().(encoding.TextMarshaler).MarshalText()
		name := fmt.Sprint(v.Elem().Interface())
		var f *known.FieldError
		switch {
		case err != nil && !errors.As(err, &f):
			return fmt.Sprintf("%d: %v is no field error", i, err)
		case err == nil && (len(text) == 0 && i != 0 || unnamed.Match(text)):
			return fmt.Sprintf("%d is written %q", i, text)
		case err != nil && !unnamed.MatchString(name) && !strings.HasPrefix(name, "unknown ") && i != 0:
			return fmt.Sprintf("%q is not written: %v", name, err)
		case err != nil:
			continue
		}
		named++
		if err := u.UnmarshalText(text); err != nil || back.Elem().Interface() != v.Elem().Interface() {
			return fmt.Sprintf("%q reads back as %v, %v", text, back.Elem().Interface(), err)
		}
		for _, wrong := range []string{"nonsense", string(text) + "?"} {
			if err := u.UnmarshalText([]byte(wrong)); !errors.As(err, &f) ||
				back.Elem().Interface() != v.Elem().Interface() {
				return fmt.Sprintf("%q is read as %v, %v", wrong, back.Elem().Interface(), err)
			}
		}
	}
	if named < 2 {
		return fmt.Sprintf("%d values have a name", named)
	}
	return ""
}

// namedIntegers finds the exported integer types with a String method and
// constants, by "folder.Type".
func namedIntegers(t *testing.T) map[string]bool {
	integers, texts, constants := map[string]bool{}, map[string]bool{}, map[string]bool{}
	goFiles(t, func(file string, f *ast.File, _ *token.FileSet) {
		dir := path.Dir(file)
		if strings.HasSuffix(file, "_test.go") || strings.Contains("/"+dir+"/", "/internal/") || f.Name.Name == "main" {
			return
		}
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Recv != nil && d.Name.Name == "String" {
					texts[dir+"."+called(d.Recv.List[0].Type)] = true
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					switch s := s.(type) {
					case *ast.TypeSpec:
						if id, ok := s.Type.(*ast.Ident); ok && s.Name.IsExported() &&
							strings.HasPrefix(strings.TrimPrefix(id.Name, "u"), "int") {
							integers[dir+"."+s.Name.Name] = true
						}
					case *ast.ValueSpec:
						if d.Tok == token.CONST && s.Type != nil {
							constants[dir+"."+called(s.Type)] = true
						}
					}
				}
			}
		}
	})
	for name := range integers {
		if !texts[name] || !constants[name] {
			delete(integers, name)
		}
	}
	return integers
}
