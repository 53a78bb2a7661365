package hazard

import (
	"regexp"
	"strings"
	"testing"
)

// Rules that are repealed or merged, and words that soothe.
var (
	withdrawn = regexp.MustCompile(`TRBS 2131|NFPA 652(?: was merged)?|2006/42/EC(?: Annex I, 1\.5\.2 until)?`)
	soothing  = regexp.MustCompile(`(?i)seldom|rarely|no (established )?threshold`)
)

// Every notice is complete, has a code of its own, hands the decision over, and
// none calls anything free of danger.
func TestNotices(t *testing.T) {
	never := regexp.MustCompile(`(?i)\bsafe(ly|r|st|ty of the place)?\b|harmless|no (risk|danger|hazard)|risk-free`)
	code := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, id := range Notices() {
		n := id.Notice("12 kV")
		if !code.MatchString(n.Code) || seen[n.Code] || n.Condition == "" || n.Consult == "" || n.Decide == "" ||
			n.Figure != "12 kV" || id.String() != n.Code {
			t.Errorf("%d: incomplete or repeated: %+v", id, n)
		}
		// Rules are named with edition and date of checking; none that is repealed stands alone.
		if !strings.HasSuffix(n.Consult, "(editions as of "+EditionsChecked+")") {
			t.Errorf("%s: no date of checking: %s", n.Code, n.Consult)
		}
		if gone := withdrawn.FindString(n.Consult); gone != "" &&
			!strings.HasSuffix(gone, "merged") && !strings.HasSuffix(gone, "until") {
			t.Errorf("%s sends people to %s", n.Code, gone)
		}
		for _, rule := range []string{"IEC TS 60079-32-1:2013", "NFPA 77:2024", "TRGS 727:2016", "NFPA 660:2025",
			"IEC 61340-5-1:2024"} {
			if bare, _, _ := strings.Cut(rule, ":"); strings.Contains(n.Consult, bare) && !strings.Contains(n.Consult, rule) {
				t.Errorf("%s names %s without its edition: %s", n.Code, bare, n.Consult)
			}
		}
		if soothes := soothing.FindString(n.String()); soothes != "" {
			t.Errorf("%s soothes: %q", n.Code, soothes)
		}
		seen[n.Code] = true
		if bad := never.FindString(n.String()); bad != "" {
			t.Errorf("%s says %q", n.Code, bad)
		}
		if strings.HasSuffix(n.Condition, ".") || strings.HasSuffix(n.Consult, ".") || strings.HasSuffix(n.Decide, ".") {
			t.Errorf("%s: a part ends with a full stop, which String adds", n.Code)
		}
	}
	if n := NoticeID(200).Notice(""); n.Code != "not-an-approval" {
		t.Errorf("unknown id: %+v", n)
	}
	if c := NoticeShock.Notice("").Condition; !strings.HasPrefix(c, "The recoil") {
		t.Errorf("the recoil comes first: %s", c)
	}
}

// TestGrounding: no notice says earth to a reader who says ground, but for the titles of
// standards and the names of the plant in its figure.
func TestGrounding(t *testing.T) {
	for _, id := range Notices() {
		n := Grounding(id.Notice("earth mat"))
		if strings.Contains(strings.ToLower(n.Condition+n.Decide), "earth") || n.Figure != "earth mat" ||
			n.Consult != id.Notice("").Consult {
			t.Errorf("%+v", n)
		}
	}
	if n := Grounding(NoticeIsolatedConductor.Notice("")); !strings.Contains(n.Condition, "ground every conductor") {
		t.Error(n.Condition)
	}
}
