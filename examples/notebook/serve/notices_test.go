package main

import (
	"encoding/json"
	"os"
	"testing"

	"example.org/pithball/charge/hazard"
)

// TestEveryNoticeReachesTheNotebook: with a site that answers yes to whatever raises a notice, a decision carries each
// notice of the table, which the client prints behind its text.
func TestEveryNoticeReachesTheNotebook(t *testing.T) {
	b, err := os.ReadFile("../../survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	l, _ := json.Marshal(string(b))
	const site = `{"safety":{"flammables":"vapour","zone":"1","decidedBy":"invented","goods":"powder","fines":"yes",` +
		`"silo":"yes","liner":"yes","blownAir":"yes","radioactive":"yes","humidifier":"yes","agents":"yes","electronics":"yes"}}`
	a := ask(t, `{"jsonrpc":"2.0","id":1,"method":"decide","params":{"line":`+string(l)+`,"site":`+site+`}}`)
	res, ok := a[0]["result"].(map[string]any)
	if !ok {
		t.Fatalf("%v", a[0])
	}
	told := map[string]string{}
	for _, n := range res["notices"].([]any) {
		n := n.(map[string]any)
		told[n["code"].(string)] = n["condition"].(string)
	}
	for _, id := range hazard.Notices() {
		n := id.Notice("")
		if told[n.Code] != n.Condition {
			t.Errorf("%s: %q, want %q", n.Code, told[n.Code], n.Condition)
		}
	}
}
