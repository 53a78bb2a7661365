package cure

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/upkeep"
)

// TestEveryNoticeOfGoods: each notice of the table is raised of goods by its condition with nothing measured or
// answered, goes where the condition is not there or excluded, and comes with a yes whatever else is there.
func TestEveryNoticeOfGoods(t *testing.T) {
	const dose, sheet = "plant_c.json", "plant_b.json" // past a nozzle and a liner; without either
	codes := func(file string, s upkeep.SafetyAnswers, spoil func(*Goods)) map[string]bool {
		g := goodsOf(t, file)
		g.Readings = nil
		if spoil != nil {
			spoil(g)
		}
		r, err := NewRoute(g, &Site{Safety: s})
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]bool{}
		for _, h := range r.Hazards() {
			out[h.Notice.Code] = true
		}
		return out
	}
	cleared := upkeep.SafetyAnswers{Flammables: upkeep.NoFlammables, Zone: upkeep.NoZone, DecidedBy: "somebody"}
	no := cleared
	no.Fines, no.Silo, no.Liner, no.BlownAir, no.Radioactive, no.Humidifier, no.Agents, no.Electronics = line.No, line.No,
		line.No, line.No, line.No, line.No, line.No, line.No
	with := func(f func(*upkeep.SafetyAnswers)) upkeep.SafetyAnswers { s := no; f(&s); return s }
	plain := func(g *Goods) { // no liner, nothing that moisture changes
		for i := range g.Stations {
			g.Stations[i].Without = nil
		}
		if g.Leak != nil {
			g.Leak.Class = humidity.Inert
		}
	}
	always := map[hazard.NoticeID]bool{hazard.NoticeNotApproval: true, hazard.NoticeIsolatedConductor: true,
		hazard.NoticeShock: true, hazard.NoticeImplant: true, hazard.NoticeReachIn: true}
	open, excluded := codes(dose, upkeep.SafetyAnswers{}, nil), codes(sheet, no, plain)
	for code := range codes(sheet, upkeep.SafetyAnswers{}, nil) {
		open[code] = true
	}
	yes := map[hazard.NoticeID]upkeep.SafetyAnswers{
		hazard.NoticeCone:             with(func(s *upkeep.SafetyAnswers) { s.Silo = line.Yes }),
		hazard.NoticePropagatingBrush: with(func(s *upkeep.SafetyAnswers) { s.Liner = line.Yes }),
		hazard.NoticeDust:             with(func(s *upkeep.SafetyAnswers) { s.Fines = line.Yes }),
		hazard.NoticeCompressedAir:    with(func(s *upkeep.SafetyAnswers) { s.BlownAir = line.Yes }),
		hazard.NoticeRadioactive:      with(func(s *upkeep.SafetyAnswers) { s.Radioactive = line.Yes }),
		hazard.NoticeChemicals:        with(func(s *upkeep.SafetyAnswers) { s.Agents = line.Yes }),
		hazard.NoticeElectronics:      with(func(s *upkeep.SafetyAnswers) { s.Electronics = line.Yes }),
		hazard.NoticeHumidity:         with(func(s *upkeep.SafetyAnswers) { s.Humidifier = line.Yes }),
	}
	for _, id := range hazard.Notices() {
		code := id.Code()
		if !open[code] {
			t.Errorf("%s: not raised without measurement or answer", code)
		}
		if wanted := always[id] || id == hazard.NoticeBrush; excluded[code] != wanted { // sheets gather in a stack
			t.Errorf("%s: raised %v of sheets without its condition", code, excluded[code])
		}
		if s, asked := yes[id]; asked && !codes(sheet, s, plain)[code] {
			t.Errorf("%s: a yes does not raise it", code)
		}
	}
	if codes(dose, no, plain)[hazard.NoticeBrush.Code()] {
		t.Error("doses have a cone, not a stack")
	}
}

// TestTableOfGoodsNotices: the comment of Hazards has a line for each notice.
func TestTableOfGoodsNotices(t *testing.T) {
	text := commentOf(t, "goods_hazards.go", "Hazards")
	for _, id := range hazard.Notices() {
		if strings.Count(text, "\n\t"+id.Code()+" ") != 1 {
			t.Errorf("no line for %s in\n%s", id.Code(), text)
		}
	}
}

// commentOf is the comment of a function or method of a file.
func commentOf(t *testing.T, file, name string) string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Decls {
		if x, ok := d.(*ast.FuncDecl); ok && x.Name.Name == name {
			return x.Doc.Text()
		}
	}
	t.Fatalf("no %s in %s", name, file)
	return ""
}
