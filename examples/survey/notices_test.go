package main

import (
	"encoding/json"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/pithball/charge/hazard"
)

// everything is a site that answers yes to whatever raises a notice; what lies on the line raises the others.
const everything = `{"safety": {"flammables": "vapour", "zone": "1", "decidedBy": "invented", "goods": "powder",
	"fines": "yes", "silo": "yes", "liner": "yes", "blownAir": "yes", "radioactive": "yes", "humidifier": "yes",
	"agents": "yes", "electronics": "yes"}}`

// plainText is what a person reads of a text or page: without marks, with single spaces.
func plainText(s string) string {
	s = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(s, " ")
	return strings.Join(strings.Fields(html.UnescapeString(s)), " ")
}

// TestEveryNoticeInEveryOutput: each notice of the table, raised by its condition on the demonstration, stands in the
// text, in the page and in the JSON of what is said about the line. That each is raised by its condition alone, and
// goes with it, is a test of package upkeep.
func TestEveryNoticeInEveryOutput(t *testing.T) {
	site := filepath.Join(t.TempDir(), "site.json")
	if err := os.WriteFile(site, []byte(everything), 0o600); err != nil {
		t.Fatal(err)
	}
	must := func(args ...string) (out, dir string) {
		code, out, errs, dir := runIn(t, args...)
		if code != 0 {
			t.Fatalf("%v: exit %d: %s", args, code, errs)
		}
		return out, dir
	}
	texts := map[string]string{}
	texts["hazards, text"], _ = must("hazards", "-site", site)
	texts["plan, text"], _ = must("plan", "-site", site)
	var dir string
	texts["verdict, text"], dir = must("verdict", "-site", site)
	page, err := os.ReadFile(filepath.Join(dir, "pithball-survey.html"))
	if err != nil {
		t.Fatal(err)
	}
	texts["page"] = string(page)
	data := map[string]string{}
	data["hazards, JSON"], _ = must("hazards", "-site", site, "-format", "json")
	data["plan, JSON"], _ = must("plan", "-site", site, "-format", "json")
	data["verdict, JSON"], _ = must("verdict", "-site", site, "-format", "json", "-html", "")
	for _, id := range hazard.Notices() {
		n := id.Notice("")
		words := n.Condition
		for name, s := range texts {
			if !strings.Contains(plainText(s), words) && !(name == "hazards, text" && strings.Contains(s, n.Code)) {
				t.Errorf("%s: %s lacks %q", id, name, words)
			}
		}
		for name, s := range data {
			var v any
			if err := json.Unmarshal([]byte(s), &v); err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(s, `"code": "`+n.Code+`"`) {
				t.Errorf("%s: %s lacks %q", id, name, n.Code)
			}
		}
	}
}

// TestAnsweredZone: a report does not ask for the zone any more when it is answered, and says who did; unanswered it
// asks.
func TestAnsweredZone(t *testing.T) {
	const asks = "the zone is not part of a survey, ask for it first"
	for _, c := range []struct {
		args []string
		want string
		not  []string
	}{{[]string{"verdict", "-html", ""}, asks, []string{"decided by"}},
		{[]string{"verdict", "-html", "", "-site", siteOf(t)}, "flammables and zone: none, decided by invented",
			[]string{asks, "ioniser in a hazardous zone"}}} {
		var o, e strings.Builder
		if code := run(c.args, &o, &e); code != 0 {
			t.Fatalf("exit %d: %s", code, e.String())
		}
		text := strings.Join(strings.Fields(o.String()), " ")
		if strings.Count(text, "never an approval") != 1 || !strings.Contains(text, c.want) {
			t.Errorf("%v: no %q, or approvals twice", c.args, c.want)
		}
		for _, x := range c.not {
			if strings.Contains(text, x) {
				t.Errorf("%v: %q", c.args, x)
			}
		}
	}
}
