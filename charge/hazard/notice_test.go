package hazard

import (
	"regexp"
	"strings"
	"testing"
)

// Every notice is complete, has a code of its own, hands the decision over, and
// none calls anything free of danger.
func TestNotices(t *testing.T) {
	never := regexp.MustCompile(`(?i)\bsafe(ly|r|st|ty of the place)?\b|harmless|no (risk|danger|hazard)|risk-free`)
	code := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	seen := map[string]bool{}
	for _, id := range Notices() {
		n := id.Notice("12 kV")
		if !code.MatchString(n.Code) || seen[n.Code] || n.Condition == "" || n.Consult == "" || n.Decide == "" || n.Figure != "12 kV" || id.String() != n.Code {
			t.Errorf("%d: incomplete or repeated: %+v", id, n)
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
}
