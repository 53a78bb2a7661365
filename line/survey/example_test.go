package survey_test

import (
	"fmt"
	"log"
	"os"

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
	// Output:
	// one source – tension nip
	// not earthed: idler 5 3.6 GΩ
}
