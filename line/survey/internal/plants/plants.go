// Package plants invents production lines, surveys of them and the truth behind
// both, to check what a diagnosis claims. It shares no model with the diagnosis:
// of packages line and survey it knows only the types that their readers fill.
//
// Two plants differ in nearly everything. [Patchy] has contacts that saturate and
// feel the net charge, patches on each face by themselves with reversed spots,
// bars of an efficiency of their own and 2 % gross errors. [Drifting] has charges
// that drift with time and turn with the rollers, mottle that both faces share,
// heavy-tailed display noise, bars that run out of ions and leave an offset, air
// under the web, described spreads that are wrong, and rows that are swapped.
//
// All of it is invented; charge densities are in µC/m², displays in V.
package plants

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// Kind is what hides in an invented plant, or how it was surveyed.
type Kind string

// The kinds. All but None, Unlisted, Two and Balanced hide one strong source.
const (
	One       Kind = "one source"
	NoGross   Kind = "one, no gross errors"
	Gross     Kind = "one, a wrong voltmeter reading"
	OneSpot   Kind = "one, repeats at one spot"
	FewVolts  Kind = "one, half the voltmeter readings"
	FreeSpans Kind = "one, free spans only"
	Balanced  Kind = "balanced layer, free spans only"
	Isolated  Kind = "one, an isolated roller read"
	Speeds    Kind = "one, two speeds"
	Days      Kind = "one, two days and airs"
	Strong    Kind = "one, many out of range"
	Two       Kind = "two of like size"
	None      Kind = "none above the limit"
	Unlisted  Kind = "one, missing from the description"
	Turned    Kind = "nonsense: voltmeter with the wrong sign"
	Random    Kind = "nonsense: random numbers"
)

// Kinds returns all kinds.
func Kinds() []Kind {
	return []Kind{
		One,
		NoGross,
		Gross,
		OneSpot,
		FewVolts,
		FreeSpans,
		Balanced,
		Isolated,
		Speeds,
		Days,
		Strong,
		Two,
		None,
		Unlisted,
	}
}

// Nonsense returns the kinds whose readings contradict each other.
func Nonsense() []Kind { return []Kind{Turned, Random} }

// Case is an invented survey with its truth.
type Case struct {
	Kind        Kind
	Description *line.Description
	Survey      *survey.Survey
	Truth       Truth
}

// Truth is what no surveyor sees.
type Truth struct {
	Main  []int // stations of the strong sources, in the description
	After int   // unlisted source: acts between this station and the next; -1 without one
	// Hidden is the larger change of a face by the unlisted source, Change what each
	// station gave to faces A and B, Bars the stations that are ionisers.
	Hidden float64
	Bars   []int
	Change [][2]float64
	// State is the mean charge of each face after each station as its readings were
	// taken, with the bars off that the place names, at the described speed and air.
	State [][2]float64
	// Alone says that readings stand between the main contact and the contacts on
	// either side of it that see what it changed.
	Alone bool
	Wrong []int // readings that are gross errors
}

// Generator makes a plant of the kind.
type Generator func(k Kind, seed uint64) *Case

// Generators returns the generators by name.
func Generators() map[string]Generator {
	return map[string]Generator{"patchy": Patchy, "drifting": Drifting}
}

// sound makes cases until one is what its kind says: nonlinear contacts and the
// air can take a source down to the size of the others.
func sound(k Kind, seed uint64, make Generator) *Case {
	for try := uint64(0); ; try++ {
		c := make(k, seed+try<<32)
		if c.Truth.clear(k, float64(c.Description.Limit.Net)/micro, c.Truth.Hidden) {
			return c
		}
	}
}

// clear reports whether the strong sources stand out by half, or nothing does.
func (t *Truth) clear(k Kind, limit, hidden float64) bool {
	var rest float64
	least := math.Inf(1)
	top := 0.0
	for i, ch := range t.Change {
		b := max(math.Abs(ch[0]), math.Abs(ch[1]))
		if slices.Contains(t.Main, i) {
			least, top = min(least, b), max(top, b)
		} else if !slices.Contains(t.Bars, i) {
			rest = max(rest, b)
		}
	}
	switch k {
	case None:
		return rest < 0.6*limit
	case Unlisted:
		return hidden > 1.5*max(rest, limit)
	case Two:
		return least > 1.5*max(rest, limit) && top < 1.5*least
	}
	return least > 1.5*max(rest, limit)
}

// dice are the random numbers of one case.
type dice struct{ *rand.Rand }

func roll(stream, seed uint64) dice { return dice{rand.New(rand.NewPCG(seed, stream))} }

func (d dice) between(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }
func (d dice) chance(p float64) bool          { return d.Float64() < p }
func (d dice) sign() float64 {
	if d.chance(0.5) {
		return -1
	}
	return 1
}

// pick returns one of the choices.
func pick[T any](d dice, of ...T) T { return of[d.IntN(len(of))] }

func (c *Case) String() string {
	return fmt.Sprintf(
		"%s: %d stations, %d readings, main %v after %d",
		c.Kind,
		len(c.Description.Stations),
		len(c.Survey.Readings),
		c.Truth.Main,
		c.Truth.After,
	)
}
