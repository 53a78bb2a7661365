// Package study is a design sweep that can be split over machines: scenario i depends on the study and on i alone, and
// blocks of scenarios add up exactly, in any order.
package study

import (
	"cmp"
	"crypto/sha256"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// Study is a design sweep: scenario i draws one line from what the survey leaves open and
// runs it at so many speeds. A scenario depends on the study and on i alone, so that any machine
// may work any of them.
type Study struct {
	diagnosis *survey.Diagnosis
	limit     float64 // [C/m²]
	speeds    int
	Key       string // names input, method and kind of processor; parts of another study do not merge
}

// Block is the outcome of the scenarios From … To−1. Everything in it is a count, or a
// greatest value with its scenario, so that blocks add up exactly in any order.
type Block struct {
	Study string  `json:"study"`
	From  uint64  `json:"from"`
	To    uint64  `json:"to"`
	Of    uint64  `json:"of"`       // scenarios of the whole study: without it the last ones could be missing unseen
	Bins  []int64 `json:"bins"`     // scenarios by the greatest net charge over the limit, see Bin
	Worst []int64 `json:"worst"`    // scenarios by the station at which it stands
	Most  float64 `json:"most"`     // the greatest of all [1]
	At    uint64  `json:"scenario"` // that has it, the first if there are several
}

const (
	bins    = 48
	perRate = 8 // bins to a doubling

	// BlockOf is the number of scenarios of a block, the last one apart.
	BlockOf = 4096
)

// MostSpeeds bounds the speeds of a scenario.
const MostSpeeds = 1_000_000

// New builds the study from the texts of a line and a survey; a scenario runs its line at 1 … [MostSpeeds] speeds drawn
// between 50 and 400 m/min, and keeps the greatest net charge of all. The key changes with the input, and with the
// architecture: the last bits of a result may.
func New(description, readings string, speeds int) (*Study, error) {
	if speeds < 1 || speeds > MostSpeeds {
		return nil, fmt.Errorf("speeds: %d: want 1 … %d", speeds, MostSpeeds)
	}
	d, err := line.ReadDescription(strings.NewReader(description))
	if err != nil {
		return nil, err
	}
	l, err := line.New(d)
	if err != nil {
		return nil, err
	}
	s, err := survey.ReadSurvey(strings.NewReader(readings))
	if err != nil {
		return nil, err
	}
	g, err := survey.Diagnose(l, s)
	if err != nil {
		return nil, err
	}
	h := sha256.Sum256(fmt.Appendf(nil, "sweep 2 %s %d %q %q", runtime.GOARCH, speeds, description, readings))
	return &Study{diagnosis: g, limit: float64(l.Limit()), speeds: speeds, Key: fmt.Sprintf("%x", h[:8])}, nil
}

// Bin is the bin of a ratio: eight to a doubling, the limit itself at the start of bin 24, what is beyond 1/8 … 8 in
// the first and the last.
func Bin(ratio float64) int {
	k := int(math.Floor(math.Log2(ratio)*perRate)) + bins/2
	return min(max(k, 0), bins-1)
}

// Worker works scenarios; each goroutine needs one of its own.
type Worker struct {
	study   *Study
	of      uint64 // scenarios of the whole study
	results []line.Result
}

// scenario returns the greatest net charge over the limit, and its station.
func (w *Worker) scenario(i uint64) (ratio float64, station int, err error) {
	l, err := w.study.diagnosis.Sample(20260114, i)
	if err != nil {
		return 0, 0, fmt.Errorf("scenario %d: %w", i, err)
	}
	rng := rand.New(rand.NewPCG(i, 0x9e3779b97f4a7c15))
	if w.results == nil {
		w.results = make([]line.Result, l.Len())
	}
	for range w.study.speeds {
		l.RunTo(w.results, units.Speed(50+350*rng.Float64())*units.MetrePerMinute)
		for k, r := range w.results {
			if x := math.Abs(float64(r.Net())) / w.study.limit; x > ratio {
				ratio, station = x, k
			}
		}
	}
	return ratio, station, nil
}

// NewWorker returns a worker of the study with so many scenarios.
func (s *Study) NewWorker(of uint64) *Worker { return &Worker{study: s, of: of} }

// Block works the scenarios from … to−1.
func (w *Worker) Block(from, to uint64) (Block, error) {
	b := Block{Study: w.study.Key, From: from, To: to, Of: w.of, Bins: make([]int64, bins),
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
// of another study, and scenarios that are missing, also behind the last block, or come twice, are errors.
func Merge(blocks []Block) (Block, error) {
	if len(blocks) == 0 {
		return Block{}, fmt.Errorf("no blocks")
	}
	blocks = slices.Clone(blocks)
	slices.SortFunc(blocks, func(a, b Block) int { return cmp.Compare(a.From, b.From) })
	sum := Block{Study: blocks[0].Study, Of: blocks[0].Of, Bins: make([]int64, bins),
		Worst: make([]int64, len(blocks[0].Worst)), Most: -1}
	for _, b := range blocks {
		switch {
		case b.Study != sum.Study:
			return sum, fmt.Errorf("scenarios %d … %d are of another study", b.From, b.To)
		case b.Of != sum.Of:
			return sum, fmt.Errorf("scenarios %d … %d are of a study of %d, others of %d", b.From, b.To, b.Of, sum.Of)
		case len(b.Bins) != bins || len(b.Worst) != len(sum.Worst) || b.To <= b.From:
			return sum, fmt.Errorf("scenarios %d … %d: a block of another form", b.From, b.To)
		case b.From > sum.To:
			return sum, fmt.Errorf("scenarios %d … %d are missing", sum.To, b.From)
		case b.From < sum.To:
			return sum, fmt.Errorf("scenarios from %d come twice", b.From)
		}
		sum.To = b.To
		sum.add(b)
	}
	if sum.To != sum.Of {
		return sum, fmt.Errorf("scenarios %d … %d are missing of %d", sum.To, sum.Of, sum.Of)
	}
	return sum, nil
}

// add adds the counts and the greatest value of a block: exact, and the same in any order.
func (b *Block) add(o Block) {
	for k, n := range o.Bins {
		b.Bins[k] += n
	}
	for k, n := range o.Worst {
		b.Worst[k] += n
	}
	if o.Most > b.Most || o.Most == b.Most && o.At < b.At {
		b.Most, b.At = o.Most, o.At
	}
}

// Sum is what a part of a study adds up to when its blocks come in any order and grouping; Of is the number of its
// scenarios. The zero value is the empty sum.
type Sum struct {
	Block Block  `json:"block"`
	Of    uint64 `json:"of"`
}

// Plus adds two sums of one study.
func (s Sum) Plus(o Sum) (Sum, error) {
	switch {
	case o.Of == 0:
		return s, nil
	case s.Of == 0:
		return o, nil
	case s.Block.Study != o.Block.Study || s.Block.Of != o.Block.Of ||
		len(s.Block.Bins) != len(o.Block.Bins) ||
		len(s.Block.Worst) != len(o.Block.Worst):
		return s, fmt.Errorf("scenarios %d … %d are of another study", o.Block.From, o.Block.To)
	}
	out := s.Block
	out.From, out.To = min(out.From, o.Block.From), max(out.To, o.Block.To)
	out.Bins, out.Worst = slices.Clone(out.Bins), slices.Clone(out.Worst)
	out.add(o.Block)
	return Sum{out, s.Of + o.Of}, nil
}

// Whole returns the study of n scenarios; a sum that has fewer or more of them is an error.
func (s Sum) Whole(n uint64) (Block, error) {
	if s.Of != n || s.Block.Of != n || s.Block.From != 0 || s.Block.To != n {
		return Block{}, fmt.Errorf("%d scenarios from %d to %d: want %d", s.Of, s.Block.From, s.Block.To, n)
	}
	return s.Block, nil
}

// Cost says what so many scenarios took, and what a study of 1e9 of them takes on machines like this one.
func Cost(scenarios uint64, took time.Duration) string {
	each := took.Seconds() / float64(scenarios)
	return fmt.Sprintf("%d scenarios in %.2f s on %d processors: %.1f µs each, 1e9 take %.1f machine hours like this",
		scenarios, took.Seconds(), runtime.GOMAXPROCS(0), each*1e6, each*1e9/3600)
}
