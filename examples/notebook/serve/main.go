// Command serve answers a notebook: one JSON-RPC 2.0 request a line on standard
// input, one answer a line on standard output, in order, until the input ends.
// It opens no port and no file.
//
//	hello    {names}                   version and every public computation with units, ranges, choices, source; with
//	                                   names true their names only
//	entry    {name}                    one computation of hello
//	compute  {name, args, bad}         args by name; an array makes a column of results
//	describe {line, speed}             a line description: its stations and what each carries at a speed
//	survey   {line, survey, units}     a description and a survey: verdict, hazards, charges, figures as SVG
//	decide   {line, survey, units,     what to do: cures in their order with their effect, what they leave, figures; site
//	          speed, chance, faces,    has the answers and prices that the survey program reads with -site; without a
//	          site}                    survey the description alone speaks
//	forecast {charge, spread, limit,   when in a year a place is over its limit: leak is {points: [{rh, time}, …]} or
//	          dwell, temperature,      one with decadesPerPercent, hall {temperature, …},
//	          leak, hall, months …}    weather twelve months (and within) or hours (and begin)
//	compare  {schema, name, before,    did a change work, or was it the weather: what a file of days of the survey
//	          after, …}                program has (survey compare)
//	cancel   {id}                      ends the request of that id, which answers with error −32800; no answer of its own
//
// An argument of compute is a number in SI, text (the name of a choice, or a number
// with its unit), an array of numbers, or {"frame": k}: the k-th of the frames that
// follow the line. A request with "frames": [n, m, …] is followed by that many
// float64s, little endian, without any separator; columns of its answer then travel
// the same way. With "bad": "nan" a row that is refused gives NaN and is counted
// instead of ending the computation.
//
// Quantities of decide, forecast and compare are text with unit. JSON has no NaN: a
// number that is not finite travels as null. No argument may be null or NaN. Errors
// carry field, value and want of the fault, and the row of a column (from 0). A request
// that is too long is read to its end and refused. Long columns send {"method":
// "progress", "params": {"done", "rows"}} once a second; a single long computation sends
// the part of its work that it is at, {"part"}, where it has several, and the {"share"} of that,
// 0 … 1, where that is known. One request is read ahead of the one that
// is computed, so that a cancel is heard; what takes longer than 0.2 s ends soon after it.
//
// With -attached the end of the input ends the program at once, also amid a
// computation: so it does not outlive the program that asked.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
)

func main() {
	attached := flag.Bool("attached", false, "end at once when the input ends")
	flag.Parse()
	if flag.NArg() > 0 {
		fmt.Fprintf(os.Stderr, "serve: argument %q: want flags only\n", flag.Arg(0))
		os.Exit(2)
	}
	var in io.Reader = os.Stdin
	if *attached {
		in = ending(os.Stdin, func() { os.Exit(0) })
	}
	if err := serve(in, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "serve:", err)
		os.Exit(1)
	}
}

// ending reads ahead of the computation and calls end when in ends.
func ending(in io.Reader, end func()) io.Reader {
	r, w := io.Pipe()
	go func() {
		io.Copy(w, in) // whatever ended it, nobody asks any more
		end()
		w.Close()
	}()
	return r
}
