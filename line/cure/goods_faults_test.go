package cure_test

import (
	"os"
	"strings"
	"testing"

	"example.org/pithball/line/cure"
)

// TestFaultsOfGoods: all faults in the words of the file, ranges converted by hand.
func TestFaultsOfGoods(t *testing.T) {
	b, err := os.ReadFile("testdata/plant_b.json")
	if err != nil {
		t.Fatal(err)
	}
	g, err := cure.ReadGoods(strings.NewReader(strings.NewReplacer(`"12000 1/h"`, `"12000 kHz"`, `"27 °C"`, `"270 °F"`,
		`"dwell": "1 ms"`, `"dwell": "90 d"`).Replace(string(b))))
	if err != nil {
		t.Fatal(err)
	}
	_, err = cure.NewRoute(g, nil)
	if err == nil {
		t.Fatal("taken")
	}
	for _, want := range []string{"line 3: rate: 12000 kHz: want 1e-07 … 1 kHz",
		"line 5: airs[1].temperature: 270 °F: want -40 … 176 °F",
		"line 9: stations[1] (pick).dwell: 90 d: want 0 … 11.5741 d"} {
		if !strings.Contains(err.Error()+"\n", want+"\n") {
			t.Errorf("want %q in\n%v", want, err)
		}
	}
}

// TestGoodsOfOtherEditors: a byte order mark does not change what charges with units mean, and UTF-16 is told as such.
func TestGoodsOfOtherEditors(t *testing.T) {
	b, err := os.ReadFile("testdata/plant_b.json")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(b), `"value": 0,`, `"value": "0 µC/m²",`, 1)
	if text == string(b) {
		t.Fatal("no charge to write with its unit")
	}
	if _, err := cure.ReadGoods(strings.NewReader("\ufeff" + text)); err != nil {
		t.Error(err)
	}
	if _, err := cure.ReadGoods(strings.NewReader("{\x00\"\x00")); err == nil || err.Error() !=
		"goods: text in UTF-16: want text in UTF-8" {
		t.Error(err)
	}
}
