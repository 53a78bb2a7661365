package cure

import (
	"strings"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/enum"
)

// BodyKind is what goods that are no web are, each with a unit of charge of its own.
type BodyKind uint8

// The kinds of body.
const (
	SheetBody   BodyKind = iota + 1 // a feeder, a board, a stack, by its charge per area [C/m²]
	PartBody                        // moulded, by its charge [C]
	ProfileBody                     // cable, tube, section, yarn, by its charge per length [C/m]
	DoseBody                        // of powder or granulate into a container, by its charge per mass [C/kg]
)

var bodyNames = [...]string{SheetBody: "sheet", PartBody: "part", ProfileBody: "profile", DoseBody: "dose"}

// String returns the name of the body, "BodyKind(n)" without one.
func (k BodyKind) String() string { return enum.Name("BodyKind", bodyNames[:], k) }

// MarshalText writes the name of the body; a value without one is a [*known.FieldError].
func (k BodyKind) MarshalText() ([]byte, error) { return enum.Write("kind", bodyNames[:], k) }

// UnmarshalText reads the name of a body; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (k *BodyKind) UnmarshalText(b []byte) error { return enum.Read("kind", bodyNames[:], b, k) }

// StopKind is what stands at a stop; [Stop] lists those of each body.
type StopKind uint8

// The kinds of stop.
const (
	PileStop      StopKind = iota + 1 // sheets come from it
	PickStop                          // a sheet is taken off the pile
	RollerStop                        // rollers of sheets or a profile
	BoardStop                         // a sheet slides on it
	MouldStop                         // a part comes out of it
	DieStop                           // a profile comes out of it
	HaulOffStop                       // pulls a profile
	HopperStop                        // a dose comes out of it
	SlideStop                         // parts or doses slide on it
	DropStop                          // parts or doses fall
	IoniserStop                       // ionised air meets the body
	PlaceStop                         // readings are taken; nothing happens
	StackStop                         // sheets go to it
	BinStop                           // parts go to it
	CoilerStop                        // a profile goes to it
	ContainerStop                     // a dose goes to it
)

var stopNames = [...]string{PileStop: "pile", PickStop: "pick", RollerStop: "roller", BoardStop: "board",
	MouldStop: "mould", DieStop: "die", HaulOffStop: "haul-off", HopperStop: "hopper", SlideStop: "slide",
	DropStop: "drop", IoniserStop: "ioniser", PlaceStop: "place", StackStop: "stack", BinStop: "bin",
	CoilerStop: "coiler", ContainerStop: "container"}

// String returns the name of the kind, "StopKind(n)" without one.
func (k StopKind) String() string { return enum.Name("StopKind", stopNames[:], k) }

// MarshalText writes the name of the kind; a value without one is a [*known.FieldError].
func (k StopKind) MarshalText() ([]byte, error) { return enum.Write("kind", stopNames[:], k) }

// UnmarshalText reads the name of a kind; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (k *StopKind) UnmarshalText(b []byte) error { return enum.Read("kind", stopNames[:], b, k) }

// bodies hold what differs from body to body.
var bodies = [...]struct {
	unit  string     // of its charge
	stops []StopKind // the first and the last at its ends
	guess float64    // what a stop is thought to give before anything is read, either way: common practice, no source
}{
	SheetBody:   {"C/m²", []StopKind{PileStop, PickStop, RollerStop, BoardStop, IoniserStop, PlaceStop, StackStop}, 5e-6},
	PartBody:    {"C", []StopKind{MouldStop, SlideStop, DropStop, IoniserStop, PlaceStop, BinStop}, 5e-8},
	ProfileBody: {"C/m", []StopKind{DieStop, RollerStop, HaulOffStop, IoniserStop, PlaceStop, CoilerStop}, 1e-6},
	DoseBody:    {"C/kg", []StopKind{HopperStop, SlideStop, DropStop, IoniserStop, PlaceStop, ContainerStop}, 5e-6},
}

// unit names the unit of a body's charge, "" of no body.
func (k BodyKind) unit() string {
	if int(k) < len(bodies) {
		return bodies[k].unit
	}
	return ""
}

// stops lists the kinds of stop that a body may pass, the first and the last at the ends
// of its way; none of no body.
func (k BodyKind) stops() []StopKind {
	if int(k) < len(bodies) {
		return bodies[k].stops
	}
	return nil
}

func listed(kinds []StopKind) string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.String()
	}
	return strings.Join(names, ", ")
}

// charges reports whether a stop may give charge to what passes: all but ionisers, places
// and the ends.
func (k StopKind) charges() bool {
	switch k {
	case IoniserStop, PlaceStop, StackStop, BinStop, CoilerStop, ContainerStop:
		return false
	}
	return int(k) < len(stopNames) && k != 0
}

// MoistureAnswer is what is known of how a body takes water. The zero value is unknown.
type MoistureAnswer uint8

// What may be known.
const (
	UnknownMoisture   MoistureAnswer = iota // taken as absorbing, which leaks best in damp air and worst in dry air
	InertMoisture                           // moisture does nothing to it
	AdsorbingMoisture                       // it takes water on its face
	AbsorbingMoisture                       // it takes water in
)

var moistureNames = [...]string{"unknown", "inert", "adsorbing", "absorbing"}

// String returns the name, "MoistureAnswer(n)" without one.
func (m MoistureAnswer) String() string { return enum.Name("MoistureAnswer", moistureNames[:], m) }

// MarshalText writes the name; an unknown value is a [*known.FieldError].
func (m MoistureAnswer) MarshalText() ([]byte, error) {
	return enum.Write("moisture", moistureNames[:], m)
}

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value
// as it was.
func (m *MoistureAnswer) UnmarshalText(b []byte) error {
	return enum.Read("moisture", moistureNames[:], b, m)
}

// class returns the class that is taken, 0 of a value without a name.
func (m MoistureAnswer) class() humidity.Class {
	switch m {
	case InertMoisture:
		return humidity.Inert
	case AdsorbingMoisture:
		return humidity.Adsorbing
	case AbsorbingMoisture, UnknownMoisture:
		return humidity.Absorbing
	}
	return 0
}
