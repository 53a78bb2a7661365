package linetest_test

import (
	"testing"

	"example.org/pithball/line/linetest"
	"example.org/pithball/line/upkeep"
)

func TestSeasons(t *testing.T) { linetest.Seasons().Run(t, upkeep.ForecastYear) }

func FuzzSeasons(f *testing.F) { linetest.Seasons().Fuzz(f, upkeep.ForecastYear) }

func TestComparisons(t *testing.T) { linetest.Comparisons().Run(t, upkeep.CompareReadings) }

func FuzzComparisons(f *testing.F) { linetest.Comparisons().Fuzz(f, upkeep.CompareReadings) }

func TestUpkeepProof(t *testing.T) {
	if err := linetest.Seasons().Prove(); err != nil {
		t.Error(err)
	}
	if err := linetest.Comparisons().Prove(); err != nil {
		t.Error(err)
	}
}
