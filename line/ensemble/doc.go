// Package ensemble walks many lines at once and fits many surveys at once: a million
// samples of a line whose contacts are known as bands, with exact quantiles of the net
// charge behind every step, and the strengths of contacts from thousands of sets of
// readings.
//
// [New] checks a [Spec], which is a line by its steps: contacts that close a part of the
// way to saturation on one face, ways on which both faces leak by a law of humidity, and
// ionisers that take a share of the net up to what they can supply.
//
//	Lines.Run    quantiles and chances over a limit behind each step, of n drawn lines
//	Lines.Walk   one line with the normal scores that the caller gives
//	Lines.Fit    the linear problem of the saturations behind readings of the net
//	Fit.All      estimate and standard deviation of each, of any number of surveys
//
// A calibrated line of package cure answers with 2,000 draws, of which a chance of one in
// a thousand cannot be told; this package answers the rare. It is the quicker and the
// poorer model: the faces pair no charge between them, the air caps each face by itself,
// an ioniser has no place, and nothing follows the speed.
//
// Random numbers depend on the seed, the number of the line and that of the score only:
// SplitMix64 as a counter and normal scores by the ziggurat of 128 layers. The bits are
// the same on any number of goroutines.
package ensemble
