package cure

import (
	"fmt"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/upkeep"
)

// Hazards lists what is dangerous about the goods and their way, in the order in which
// it is to be dealt with, as [upkeep.Hazards] does of a web. What nobody measured or
// answered counts as present and says so. No list is complete, and none says that a
// place is free of danger. A yes raises what it asks about whatever else is there; else
//
//	not-an-approval      always; first of all while zone, flammables or who decided are not answered
//	isolated-conductor   each conductor not measured or above 1 MΩ, none listed at all; people
//	cone-discharge       doses, unless nothing is heaped in a large vessel
//	brush-discharge      the last stop of sheets, parts and profiles, where they gather
//	propagating-brush    a stop with a liner or cover on metal; doses, unless no liner is there
//	dust                 flammable dust; doses and parts, unless there are no fines
//	ioniser-in-zone      a nozzle without certificate where flammables or zone are not excluded
//	shock                always: what conductors and people carry was not measured
//	implant              always
//	reach-in             always
//	high-voltage         a nozzle
//	ozone                a nozzle
//	compressed-air       a nozzle
//	radioactive          a nozzle that nobody said is not radioactive
//	chemicals            a nozzle, whose pins are cleaned
//	electronics          a nozzle, unless no sensitive electronics are near
//	humidity             goods that moisture changes, unless nobody humidifies
func (r *Route) Hazards() []upkeep.Hazard {
	if len(r.gains) == 0 {
		return nil
	}
	var out []upkeep.Hazard
	add := func(id hazard.NoticeID, open bool, station, figure string) {
		out = append(out, upkeep.Hazard{Rank: len(out) + 1, Station: station, Open: open, Notice: id.Notice(figure)})
	}
	safe := &r.site.Safety
	open := safe.Open()
	switch {
	case open != "":
		add(hazard.NoticeNotApproval, true, "", open+": until then only earthing and reading")
	default:
		add(hazard.NoticeNotApproval, false, "", fmt.Sprintf("flammables %s, zone %s, decided by %s", safe.Flammables,
			safe.Zone, safe.DecidedBy))
	}
	for _, c := range r.goods.Conductors {
		switch {
		case c.Resistance == 0:
			add(hazard.NoticeIsolatedConductor, true, c.Name, c.Name+": resistance to earth not measured")
		case c.isolated():
			add(hazard.NoticeIsolatedConductor, false, c.Name, fmt.Sprintf("%s: %v to earth", c.Name, c.Resistance))
		}
	}
	if len(r.goods.Conductors) == 0 {
		add(hazard.NoticeIsolatedConductor, true, "", "no metal part is listed: none was measured")
	}
	add(hazard.NoticeIsolatedConductor, true, "", "people at the line: footwear and floor not measured")
	last := r.goods.Stations[len(r.goods.Stations)-1].Name
	if r.goods.Kind == DoseBody {
		if safe.Silo != line.No {
			add(hazard.NoticeCone, safe.Silo == line.Unanswered, "", "bulk in a vessel")
		}
	} else {
		add(hazard.NoticeBrush, open != "", last, last+": charged goods gather there")
		if safe.Silo == line.Yes {
			add(hazard.NoticeCone, false, "", "bulk in a vessel")
		}
	}
	for i := range r.goods.Stations {
		if s := &r.goods.Stations[i]; s.Without != nil {
			add(hazard.NoticePropagatingBrush, false, s.Name, s.Name+": an insulating liner or cover on metal")
		}
	}
	if s := safe.Liner; s == line.Yes || s == line.Unanswered && r.goods.Kind == DoseBody {
		add(hazard.NoticePropagatingBrush, s == line.Unanswered, "", "other insulating liners or coats on metal in the "+
			"way of the goods")
	}
	loose := r.goods.Kind == DoseBody || r.goods.Kind == PartBody
	if safe.Flammables == upkeep.FlammableDust || safe.Fines == line.Yes || loose && safe.Fines != line.No {
		add(hazard.NoticeDust, safe.Fines == line.Unanswered && safe.Flammables != upkeep.FlammableDust, "",
			"fines: "+safe.Fines.String())
	}
	r.ofNozzles(add)
	damp := r.goods.Leak != nil && r.goods.Leak.Class != humidity.Inert
	for i := range r.goods.Stations {
		damp = damp || r.goods.Stations[i].Slope > 0
	}
	if s := safe.Humidifier; s == line.Yes || s == line.Unanswered && damp {
		add(hazard.NoticeHumidity, s == line.Unanswered, "", "whether the air is or shall be humidified: "+s.String())
	}
	return out
}

// ofNozzles adds what injures people, and what comes with ionised air.
func (r *Route) ofNozzles(add func(id hazard.NoticeID, open bool, station, figure string)) {
	safe := &r.site.Safety
	var names []string
	for i := range r.goods.Stations {
		if s := &r.goods.Stations[i]; s.Nozzle != nil {
			names = append(names, s.Name)
		}
	}
	all := strings.Join(names, ", ")
	certified := safe.Open() == ""
	for _, n := range names {
		listed := false
		for _, c := range safe.Certified {
			listed = listed || c == n
		}
		certified = certified && listed
	}
	if len(names) > 0 && !r.site.free() && !certified {
		add(hazard.NoticeIoniserZone, safe.Open() != "", "", all+": no certificate is named")
	}
	add(hazard.NoticeShock, true, "", "what conductors and people carry was not measured")
	add(hazard.NoticeImplant, false, "", "")
	add(hazard.NoticeReachIn, false, "", "stop and lock out for any work in the way of the goods")
	if len(names) > 0 {
		add(hazard.NoticeHighVoltage, false, "", all)
		add(hazard.NoticeOzone, false, "", all)
	}
	if len(names) > 0 || safe.BlownAir == line.Yes {
		add(hazard.NoticeCompressedAir, false, "", all)
	}
	for _, q := range []struct {
		id     hazard.NoticeID
		answer line.YesNo
		asks   string
	}{{hazard.NoticeRadioactive, safe.Radioactive, "whether it is radioactive"},
		{hazard.NoticeChemicals, safe.Agents, "with what its pins are cleaned"},
		{hazard.NoticeElectronics, safe.Electronics, "whether sensitive electronics are near"}} {
		switch {
		case q.answer == line.Yes: // whatever else stands there
			add(q.id, false, "", all)
		case q.answer == line.Unanswered && len(names) > 0:
			add(q.id, true, "", all+": "+q.asks+" is not answered")
		}
	}
}
