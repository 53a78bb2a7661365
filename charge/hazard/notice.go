package hazard

import (
	"math"
	"strconv"
	"strings"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units/known"
)

// NoticeID names a hazard notice of the static table.
type NoticeID uint8

// The notices. Each states a condition; none says that a place is free of
// danger, and no absence of a notice does.
const (
	NoticeNotApproval       NoticeID = iota // a computed figure is no safety approval
	NoticeIsolatedConductor                 // metal, liquid or a person without a path to earth
	NoticeBrush                             // brush discharges from an insulating surface
	NoticePropagatingBrush                  // layer with strong charge on both sides
	NoticeCone                              // cone discharges in a silo or hopper
	NoticeShock                             // shocks to people and the recoil from them
	NoticeOzone                             // ozone from corona
	NoticeCompressedAir                     // compressed air and noise
	NoticeHighVoltage                       // ioniser supplies and bars
	NoticeIoniserZone                       // ioniser in a hazardous zone
	NoticeRadioactive                       // radioactive ionisers
	NoticeImplant                           // people with active implants
	NoticeHumidity                          // side effects of humidifying
	NoticeReachIn                           // reading a meter at running machinery
	NoticeDust                              // fine dust in filling and conveying
	NoticeChemicals                         // antistatic agents and cleaning solvents
	NoticeElectronics                       // charge-sensitive electronic parts
	noticeCount
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

// notices is the static table: condition, whom to consult, what to decide.
var notices = [noticeCount]known.Notice{
	NoticeNotApproval: {Code: "not-an-approval",
		Condition: "A computed or measured figure is never an approval for a place with flammable vapour, gas, mist or " +
			"dust: the zone comes first, the model second",
		Consult: iec32 + ", " + nfpa77 + ", " + trgs + " or the local code",
		Decide:  "the zone of the place and whether work may go on there"},
	NoticeIsolatedConductor: {Code: "isolated-conductor",
		Condition: "A conductor without a path to earth collects charge and can release all of it in one spark; isolated " +
			"metal and people are behind most ignitions by static, so earth every conductor and person before any film is " +
			"neutralised",
		Consult: iec32 + " (earthing and bonding) and " + nfpa77 + "; IEC 60079-32-2:2015 for the tests",
		Decide:  "how it is earthed, how that is checked while the machine runs, and whether work stops until then"},
	NoticeBrush: {Code: "brush-discharge",
		Condition: "A charged insulating surface can give brush discharges, which can ignite gas, vapour and hybrid mixtures",
		Consult:   iec32 + " (limits of area, layer thickness, width and transferred charge, by zone and gas group)",
		Decide:    "which limits apply in this zone, and whether the surface may be there"},
	NoticePropagatingBrush: {Code: "propagating-brush",
		Condition: "An insulating layer with strong charge of opposite sign on its two sides, or on earthed metal, can " +
			"give a propagating brush discharge of the order of a joule, which ignites most mixtures and can injure; " +
			"ionising one face can build that state",
		Consult: iec32 + " and " +
			trgs + " (propagating brush discharge); breakdown voltage of the layer by IEC 60243-1:2013",
		Decide: "charge density and breakdown voltage of this layer by test, and whether the layer may be used"},
	NoticeCone: {Code: "cone-discharge",
		Condition: "Insulating product heaped in a large vessel can give cone discharges along its surface",
		Consult:   iec32 + " (bulk materials) and " + nfpa77,
		Decide:    "the least ignition energy of the dust and the protection of the vessel"},
	NoticeShock: {Code: "shock",
		Condition: "The recoil from a shock injures, at nips, knives, ladders and hot parts; a strong discharge through " +
			"the body can injure by itself",
		Consult: trgs + " Annex D (discharges above 350 mJ or 50 µC count as harmful), " + iec32 + "; " + machinery,
		Decide:  "guards and earthing at the place where people are, and whether the discharge itself can injure"},
	NoticeOzone: {Code: "ozone",
		Condition: "Corona makes ozone; negative corona and dirty pins make more",
		Consult:   "the occupational limit in force, for example 29 CFR 1910.1000 Table Z-1 (0.1 ppm over 8 h)",
		Decide:    "ventilation and measurement of ozone where people work"},
	NoticeCompressedAir: {Code: "compressed-air",
		Condition: "Compressed air injures eyes, ears and skin; it is never directed at people",
		Consult:   "29 CFR 1910.242(b) (below 30 psi dead-ended, chip guarding) or the local rule; the noise rule in force",
		Decide:    "pressure, guarding, eye protection and the noise measurement"},
	NoticeHighVoltage: {Code: "high-voltage",
		Condition: "Ioniser supplies carry kilovolts and bars hold charge after they are switched off",
		Consult:   "the maker's instructions and the local electrical code; IEC 60204-1:2016+A1:2021",
		Decide: "installation by a qualified person; switching off, discharging and locking out before anyone touches " +
			"or cleans it"},
	NoticeIoniserZone: {Code: "ioniser-in-zone",
		Condition: "An ioniser in a hazardous zone can itself ignite",
		Consult:   "IEC 60079-0:2017, " + iec32 + " and the certificate of the device",
		Decide:    "whether the device is certified for this zone and gas group"},
	NoticeRadioactive: {Code: "radioactive",
		Condition: "A radioactive ioniser is a licensed source: inventoried, leak-tested, returned, never opened or abraded",
		Consult:   "the radiation authority; in the United States 10 CFR 31.3",
		Decide:    "licence, inventory, leak test and return"},
	NoticeImplant: {Code: "implant",
		Condition: "No level of static discharge or field is known below which an active implant is undisturbed: wearers " +
			"keep away from charged goods, " +
			"sparks and high voltage until maker and physician have answered",
		Consult: "the maker of the implant and the physician; Directive 2013/35/EU for fields",
		Decide:  "whether the person works there"},
	NoticeHumidity: {Code: "humidity",
		Condition: "Humidifying brings hygiene, corrosion, condensation and slip hazards, and does little for polymers " +
			"that take up no water",
		Consult: "the local rule for humidifiers and legionella, for example VDI 6022-1:2018",
		Decide:  "water treatment, cleaning and the dew point of the coldest surface"},
	NoticeReachIn: {Code: "reach-in",
		Condition: "Readings near running rollers: use a holder, never reach in; keep hair, sleeves and leads clear",
		Consult:   "ISO 12100:2010 and the machine's own instructions; " + machinery + ", on static electricity",
		Decide:    "how the reading is taken while guards stay in place"},
	NoticeDust: {Code: "dust",
		Condition: "Fines ignite at far lower energy than the product; people must be earthed, and an insulating liner in " +
			"a metal hopper can give propagating brush discharges",
		Consult: iec32 + " (powders), " + nfpa77 + " and NFPA 660:2025 (into which NFPA 652 was merged)",
		Decide:  "the least ignition energy of the fines by test, and the assessment of liners"},
	NoticeChemicals: {Code: "chemicals",
		Condition: "Antistatic agents and solvents for cleaning pins have hazards of their own; solvent near a live bar " +
			"can ignite",
		Consult: "the safety data sheets",
		Decide:  "handling, and high voltage off while solvent is near"},
	NoticeElectronics: {Code: "electronics",
		Condition: "An ioniser out of balance charges parts; charge-sensitive electronics can be damaged below anything a " +
			"person feels",
		Consult: "IEC 61340-5-1:2024 or ANSI/ESD S20.20-2021",
		Decide:  "balance and discharge time for the parts in hand"},
}

// Notices lists every notice of the table, in the order of the constants.
func Notices() []NoticeID {
	ids := make([]NoticeID, noticeCount)
	for i := range ids {
		ids[i] = NoticeID(i)
	}
	return ids
}

// Code returns the stable name of the notice, "" for an unknown id.
func (id NoticeID) Code() string {
	if id >= noticeCount {
		return ""
	}
	return notices[id].Code
}

// codes are the names of the notices, in their order.
func codes() []string {
	out := make([]string, noticeCount)
	for i := range out {
		out[i] = notices[i].Code
	}
	return out
}

// String returns Code, or "NoticeID(n)" for an unknown id.
func (id NoticeID) String() string { return enum.Name("NoticeID", codes(), id) }

// MarshalText writes Code; an unknown id is a [*known.FieldError].
func (id NoticeID) MarshalText() ([]byte, error) { return enum.Write("notice", codes(), id) }

// UnmarshalText reads a code.
func (id *NoticeID) UnmarshalText(b []byte) error { return enum.Read("notice", codes(), b, id) }

// Notice returns the notice with the figure that raised it, "" for none. An
// unknown id gives [NoticeNotApproval].
func (id NoticeID) Notice(figure string) known.Notice {
	if id >= noticeCount {
		id = NoticeNotApproval
	}
	n := notices[id]
	n.Figure = figure
	n.Consult += " (editions as of " + EditionsChecked + ")"
	return n
}

var grounding = strings.NewReplacer("earthed", "grounded", "earthing", "grounding", "earth", "ground")

// Grounding returns the notice in the words of a reader who says ground for earth. The
// titles of standards and the figure, which may name parts of the plant, stay.
func Grounding(n known.Notice) known.Notice {
	n.Condition, n.Decide = grounding.Replace(n.Condition), grounding.Replace(n.Decide)
	return n
}

// short writes a figure of a notice to two digits, without an exponent where a
// reader can do without.
func short(x float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
	if a := math.Abs(r); err != nil || a != 0 && a < 1e-4 || a >= 1e6 {
		return strconv.FormatFloat(x, 'g', 2, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
