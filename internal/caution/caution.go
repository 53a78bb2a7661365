// Package caution holds the one table of hazard notices: charge/hazard lists it in public, and the rooms that do not
// know charge say the same words.
package caution

import "example.org/pithball/units/known"

// The places of the notices in the table, in the order of those of charge/hazard.
const (
	NotApproval       = iota // a computed figure is no safety approval
	IsolatedConductor        // metal, liquid or a person without a path to earth
	Brush                    // brush discharges from an insulating surface
	PropagatingBrush         // layer with strong charge on both sides
	Cone                     // cone discharges in a silo or hopper
	Shock                    // shocks to people and the recoil from them
	Ozone                    // ozone from corona
	CompressedAir            // compressed air and noise
	HighVoltage              // ioniser supplies and bars
	IoniserZone              // ioniser in a hazardous zone
	Radioactive              // radioactive ionisers
	Implant                  // people with active implants
	Humidity                 // side effects of humidifying
	ReachIn                  // reading a meter at running machinery
	Dust                     // fine dust in filling and conveying
	Chemicals                // antistatic agents and cleaning solvents
	Electronics              // charge-sensitive electronic parts
	Count
)

// EditionsChecked is the date up to which the editions that the notices name were
// looked for. A later edition, an amendment or the law of the place stands over
// them. Superseded: TRBS 2131 (repealed in 2010) by TRGS 727; NFPA 652 by NFPA 660
// (in force since 6 December 2024); Directive 2006/42/EC by Regulation (EU)
// 2023/1230 on 20 January 2027.
const EditionsChecked = "28 November 2026"

// The rules that several notices name, with their editions.
const (
	iec32     = "IEC TS 60079-32-1:2013+A1:2017"
	nfpa77    = "NFPA 77:2024"
	trgs      = "TRGS 727:2016"
	machinery = "Directive 2006/42/EC Annex I, 1.5.2 until 19 January 2027, then Regulation (EU) 2023/1230 Annex III"
)

// table is static: condition, whom to consult, what to decide.
var table = [Count]known.Notice{
	NotApproval: {Code: "not-an-approval",
		Condition: "A computed or measured figure is never an approval for a place with flammable vapour, gas, mist or " +
			"dust: the zone comes first, the model second",
		Consult: iec32 + ", " + nfpa77 + ", " + trgs + " or the local code",
		Decide:  "the zone of the place and whether work may go on there"},
	IsolatedConductor: {Code: "isolated-conductor",
		Condition: "A conductor without a path to earth collects charge and can release all of it in one spark; isolated " +
			"metal and people are behind most ignitions by static, so earth every conductor and person before any film is " +
			"neutralised",
		Consult: iec32 + " (earthing and bonding) and " + nfpa77 + "; IEC 60079-32-2:2015 for the tests",
		Decide:  "how it is earthed, how that is checked while the machine runs, and whether work stops until then"},
	Brush: {Code: "brush-discharge",
		Condition: "A charged insulating surface can give brush discharges, which can ignite gas, vapour and hybrid mixtures",
		Consult:   iec32 + " (limits of area, layer thickness, width and transferred charge, by zone and gas group)",
		Decide:    "which limits apply in this zone, and whether the surface may be there"},
	PropagatingBrush: {Code: "propagating-brush",
		Condition: "An insulating layer with strong charge of opposite sign on its two sides, or on earthed metal, can " +
			"give a propagating brush discharge of the order of a joule, which ignites most mixtures and can injure; " +
			"ionising one face can build that state",
		Consult: iec32 + " and " +
			trgs + " (propagating brush discharge); breakdown voltage of the layer by IEC 60243-1:2013",
		Decide: "charge density and breakdown voltage of this layer by test, and whether the layer may be used"},
	Cone: {Code: "cone-discharge",
		Condition: "Insulating product heaped in a large vessel can give cone discharges along its surface",
		Consult:   iec32 + " (bulk materials) and " + nfpa77,
		Decide:    "the least ignition energy of the dust and the protection of the vessel"},
	Shock: {Code: "shock",
		Condition: "The recoil from a shock injures, at nips, knives, ladders and hot parts; a strong discharge through " +
			"the body can injure by itself",
		Consult: trgs + " Annex D (discharges above 350 mJ or 50 µC count as harmful), " + iec32 + "; " + machinery,
		Decide:  "guards and earthing at the place where people are, and whether the discharge itself can injure"},
	Ozone: {Code: "ozone",
		Condition: "Corona makes ozone; negative corona and dirty pins make more",
		Consult:   "the occupational limit in force, for example 29 CFR 1910.1000 Table Z-1 (0.1 ppm over 8 h)",
		Decide:    "ventilation and measurement of ozone where people work"},
	CompressedAir: {Code: "compressed-air",
		Condition: "Compressed air injures eyes, ears and skin; it is never directed at people",
		Consult:   "29 CFR 1910.242(b) (below 30 psi dead-ended, chip guarding) or the local rule; the noise rule in force",
		Decide:    "pressure, guarding, eye protection and the noise measurement"},
	HighVoltage: {Code: "high-voltage",
		Condition: "Ioniser supplies carry kilovolts and bars hold charge after they are switched off",
		Consult:   "the maker's instructions and the local electrical code; IEC 60204-1:2016+A1:2021",
		Decide: "installation by a qualified person; switching off, discharging and locking out before anyone touches " +
			"or cleans it"},
	IoniserZone: {Code: "ioniser-in-zone",
		Condition: "An ioniser in a hazardous zone can itself ignite",
		Consult:   "IEC 60079-0:2017, " + iec32 + " and the certificate of the device",
		Decide:    "whether the device is certified for this zone and gas group"},
	Radioactive: {Code: "radioactive",
		Condition: "A radioactive ioniser is a licensed source: inventoried, leak-tested, returned, never opened or abraded",
		Consult:   "the radiation authority; in the United States 10 CFR 31.3",
		Decide:    "licence, inventory, leak test and return"},
	Implant: {Code: "implant",
		Condition: "No level of static discharge or field is known below which an active implant is undisturbed: wearers " +
			"keep away from charged goods, " +
			"sparks and high voltage until maker and physician have answered",
		Consult: "the maker of the implant and the physician; Directive 2013/35/EU for fields",
		Decide:  "whether the person works there"},
	Humidity: {Code: "humidity",
		Condition: "Humidifying brings hygiene, corrosion, condensation and slip hazards, and does little for polymers " +
			"that take up no water",
		Consult: "the local rule for humidifiers and legionella, for example VDI 6022-1:2018",
		Decide:  "water treatment, cleaning and the dew point of the coldest surface"},
	ReachIn: {Code: "reach-in",
		Condition: "Readings near running rollers: use a holder, never reach in; keep hair, sleeves and leads clear",
		Consult:   "ISO 12100:2010 and the machine's own instructions; " + machinery + ", on static electricity",
		Decide:    "how the reading is taken while guards stay in place"},
	Dust: {Code: "dust",
		Condition: "Fines ignite at far lower energy than the product; people must be earthed, and an insulating liner in " +
			"a metal hopper can give propagating brush discharges",
		Consult: iec32 + " (powders), " + nfpa77 + " and NFPA 660:2025 (into which NFPA 652 was merged)",
		Decide:  "the least ignition energy of the fines by test, and the assessment of liners"},
	Chemicals: {Code: "chemicals",
		Condition: "Antistatic agents and solvents for cleaning pins have hazards of their own; solvent near a live bar " +
			"can ignite",
		Consult: "the safety data sheets",
		Decide:  "handling, and high voltage off while solvent is near"},
	Electronics: {Code: "electronics",
		Condition: "An ioniser out of balance charges parts; charge-sensitive electronics can be damaged below anything a " +
			"person feels",
		Consult: "IEC 61340-5-1:2024 or ANSI/ESD S20.20-2021",
		Decide:  "balance and discharge time for the parts in hand"},
}

// Code returns the stable name of a notice, "" outside the table.
func Code(place int) string {
	if place < 0 || place >= Count {
		return ""
	}
	return table[place].Code
}

// Codes returns the names of the notices in their order.
func Codes() []string {
	out := make([]string, Count)
	for i := range out {
		out[i] = table[i].Code
	}
	return out
}

// Of returns a notice with the figure that raised it, "" for none, and the date of its editions. A place outside the
// table is that of [NotApproval].
func Of(place int, figure string) known.Notice {
	if place < 0 || place >= Count {
		place = NotApproval
	}
	n := table[place]
	n.Figure = figure
	n.Consult += " (editions as of " + EditionsChecked + ")"
	return n
}
