package survey_test

import (
	"fmt"
	"log"
	"os"
	"strings"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// A survey of the invented film slitter: what the readings mean.
func Example() {
	f, err := os.Open("../../examples/survey/demo/line.json")
	if err != nil {
		log.Fatal(err)
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		log.Fatal(err)
	}
	l, err := line.New(d)
	if err != nil {
		log.Fatal(err)
	}
	g, err := os.Open("../../examples/survey/demo/survey.csv")
	if err != nil {
		log.Fatal(err)
	}
	defer g.Close()
	s, err := survey.ReadSurvey(g)
	if err != nil {
		log.Fatal(err)
	}
	diagnosis, err := survey.Diagnose(l, s)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(diagnosis.Answer.Kind, "–", d.Stations[diagnosis.Answer.Sets[0][0]].Name)
	for _, g := range diagnosis.Ground {
		if g.Isolated {
			fmt.Println("not earthed:", d.Stations[g.Station].Name, g.Resistance)
		}
	}
	verdict, err := diagnosis.Verdict()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(verdict.Earth)
	source, _, _ := strings.Cut(verdict.Source, ";")
	fmt.Println(source)
	for _, n := range verdict.Notices {
		fmt.Println("notice:", n.Code)
	}
	// Output:
	// one source – tension nip
	// not earthed: idler 5 3.6 GΩ
	// Earth first: idler 5 (3.6 GΩ to earth; charges to about 5.0 kV, perhaps 7.0 kV and 4.9 mJ, and sparks).
	// Main source: tension nip, face A +14 (+7.3 … +20) µC/m² and face B −12 (−19 … −6.2) µC/m²
	// notice: not-an-approval
	// notice: isolated-conductor
	// notice: shock
	// notice: brush-discharge
	// notice: propagating-brush
	// notice: ioniser-in-zone
	// notice: high-voltage
	// notice: ozone
	// notice: reach-in
}
