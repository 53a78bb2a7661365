package hazard

import (
	"math"
	"strconv"
	"strings"

	"example.org/pithball/internal/caution"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/lazy"
	"example.org/pithball/units/known"
)

// NoticeID names a hazard notice of the static table.
type NoticeID uint8

// The notices. Each states a condition; none says that a place is free of
// danger, and no absence of a notice does.
const (
	NoticeNotApproval       = NoticeID(caution.NotApproval)       // a computed figure is no safety approval
	NoticeIsolatedConductor = NoticeID(caution.IsolatedConductor) // metal, liquid or a person without a path to earth
	NoticeBrush             = NoticeID(caution.Brush)             // brush discharges from an insulating surface
	NoticePropagatingBrush  = NoticeID(caution.PropagatingBrush)  // layer with strong charge on both sides
	NoticeCone              = NoticeID(caution.Cone)              // cone discharges in a silo or hopper
	NoticeShock             = NoticeID(caution.Shock)             // shocks to people and the recoil from them
	NoticeOzone             = NoticeID(caution.Ozone)             // ozone from corona
	NoticeCompressedAir     = NoticeID(caution.CompressedAir)     // compressed air and noise
	NoticeHighVoltage       = NoticeID(caution.HighVoltage)       // ioniser supplies and bars
	NoticeIoniserZone       = NoticeID(caution.IoniserZone)       // ioniser in a hazardous zone
	NoticeRadioactive       = NoticeID(caution.Radioactive)       // radioactive ionisers
	NoticeImplant           = NoticeID(caution.Implant)           // people with active implants
	NoticeHumidity          = NoticeID(caution.Humidity)          // side effects of humidifying
	NoticeReachIn           = NoticeID(caution.ReachIn)           // reading a meter at running machinery
	NoticeDust              = NoticeID(caution.Dust)              // fine dust in filling and conveying
	NoticeChemicals         = NoticeID(caution.Chemicals)         // antistatic agents and cleaning solvents
	NoticeElectronics       = NoticeID(caution.Electronics)       // charge-sensitive electronic parts
	noticeCount             = NoticeID(caution.Count)
)

// EditionsChecked is the date up to which the editions that the notices name were
// looked for. A later edition, an amendment or the law of the place stands over
// them.
const EditionsChecked = caution.EditionsChecked

// Notices lists every notice of the table, in the order of the constants.
func Notices() []NoticeID {
	ids := make([]NoticeID, noticeCount)
	for i := range ids {
		ids[i] = NoticeID(i)
	}
	return ids
}

// Code returns the stable name of the notice, "" for an unknown id.
func (id NoticeID) Code() string { return caution.Code(int(id)) }

// String returns Code, or "NoticeID(n)" for an unknown id.
func (id NoticeID) String() string { return enum.Name("NoticeID", caution.Codes(), id) }

// MarshalText writes Code; an unknown id is a [*known.FieldError].
func (id NoticeID) MarshalText() ([]byte, error) { return enum.Write("notice", caution.Codes(), id) }

// UnmarshalText reads a code.
func (id *NoticeID) UnmarshalText(b []byte) error { return enum.Read("notice", caution.Codes(), b, id) }

// Notice returns the notice with the figure that raised it, "" for none. An
// unknown id gives [NoticeNotApproval].
func (id NoticeID) Notice(figure string) known.Notice {
	return caution.Of(int(id), figure)
}

var grounding = lazy.Value[*strings.Replacer]{Make: func() *strings.Replacer {
	return strings.NewReplacer("earthed", "grounded", "earthing", "grounding", "earth", "ground")
}}

// Grounding returns the notice in the words of a reader who says ground for earth. The
// titles of standards and the figure, which may name parts of the plant, stay.
func Grounding(n known.Notice) known.Notice {
	r := grounding.Get()
	n.Condition, n.Decide = r.Replace(n.Condition), r.Replace(n.Decide)
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
