package main

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// Study is a design sweep: scenario i runs one line drawn from what the survey leaves
// open, at one speed. A scenario depends on the study and on i alone, so that any machine
// may work any of them.
type Study struct {
	diagnosis *survey.Diagnosis
	limit     float64 // C/m²
	Key       string  // names input and method; parts of another study do not merge
}

// Block is the outcome of the scenarios From … To−1. Everything in it is a count, or a
// greatest value with its scenario, so that blocks add up exactly in any order.
type Block struct {
	Study string  `json:"study"`
	From  uint64  `json:"from"`
	To    uint64  `json:"to"`
	Bins  []int64 `json:"bins"`     // scenarios by the greatest net charge over the limit, see Bin
	Worst []int64 `json:"worst"`    // scenarios by the station at which it stands
	Most  float64 `json:"most"`     // the greatest of all [1]
	At    uint64  `json:"scenario"` // that has it, the first if there are several
}

const (
	bins    = 48
	perRate = 8 // bins to a doubling
	blockOf = 4096
)

// Bin is the bin of a ratio: eight to a doubling, from 1/8 to 8 times the limit.
func Bin(ratio float64) int {
	k := int(math.Floor(math.Log2(ratio)*perRate)) + bins/2
	return min(max(k, 0), bins-1)
}

// worker has what one goroutine needs.
type worker struct {
	study   *Study
	results []line.Result
}

// scenario returns the greatest net charge over the limit, and its station.
func (w *worker) scenario(i uint64) (ratio float64, station int, err error) {
	l, err := w.study.diagnosis.Sample(20260114, i)
	if err != nil {
		return 0, 0, fmt.Errorf("scenario %d: %w", i, err)
	}
	rng := rand.New(rand.NewPCG(i, 0x9e3779b97f4a7c15))
	v := units.Speed(50+350*rng.Float64()) * units.MetrePerMinute
	if w.results == nil {
		w.results = make([]line.Result, l.Len())
	}
	l.RunTo(w.results, v)
	for k, r := range w.results {
		if x := math.Abs(float64(r.Net())) / w.study.limit; x > ratio {
			ratio, station = x, k
		}
	}
	return ratio, station, nil
}

// block works one block.
func (w *worker) block(from, to uint64) (Block, error) {
	b := Block{Study: w.study.Key, From: from, To: to, Bins: make([]int64, bins),
		Worst: make([]int64, w.study.diagnosis.Line().Len()), Most: -1}
	for i := from; i < to; i++ {
		ratio, station, err := w.scenario(i)
		if err != nil {
			return b, err
		}
		b.Bins[Bin(ratio)]++
		b.Worst[station]++
		if ratio > b.Most {
			b.Most, b.At = ratio, i
		}
	}
	return b, nil
}

// Merge adds blocks up. They may come in any order and from any number of files; blocks
// of another study, and scenarios that are missing or come twice, are errors.
func Merge(blocks []Block) (Block, error) {
	if len(blocks) == 0 {
		return Block{}, fmt.Errorf("no blocks")
	}
	blocks = slices.Clone(blocks)
	slices.SortFunc(blocks, func(a, b Block) int { return cmp.Compare(a.From, b.From) })
	sum := Block{Study: blocks[0].Study, Bins: make([]int64, bins), Worst: make([]int64, len(blocks[0].Worst)), Most: -1}
	for _, b := range blocks {
		switch {
		case b.Study != sum.Study:
			return sum, fmt.Errorf("scenarios %d … %d are of another study", b.From, b.To)
		case len(b.Bins) != bins || len(b.Worst) != len(sum.Worst) || b.To <= b.From:
			return sum, fmt.Errorf("scenarios %d … %d: a block of another form", b.From, b.To)
		case b.From > sum.To:
			return sum, fmt.Errorf("scenarios %d … %d are missing", sum.To, b.From)
		case b.From < sum.To:
			return sum, fmt.Errorf("scenarios from %d come twice", b.From)
		}
		sum.To = b.To
		for k, n := range b.Bins {
			sum.Bins[k] += n
		}
		for k, n := range b.Worst {
			sum.Worst[k] += n
		}
		if b.Most > sum.Most {
			sum.Most, sum.At = b.Most, b.At
		}
	}
	return sum, nil
}
