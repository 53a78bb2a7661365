package decay

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// choice is an argument that selects from a list of names.
func choice(name, doc string, names []string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: doc, Low: 0, High: float64(len(names) - 1), Choices: names}
}

// classEntry is the classification by the schemes of one quantity.
func classEntry(method, unit, doc string, schemes []*ClassScheme, of func(s *ClassScheme, v float64) (Class, error)) compute.Entry {
	names := make([]string, len(schemes))
	for i, s := range schemes {
		names[i] = s.Name()
	}
	return compute.Entry{
		Name: "decay.ClassScheme." + method, Doc: "Class of " + doc + " (0 unclassified, 1 conductive, 2 dissipative, 3 insulating) and the upper end of dissipative.",
		Args:    []compute.Arg{choice("scheme", "standard and edition", names), {Name: "value", Unit: unit, Doc: doc, Low: 1e-3, High: 1e24}},
		Results: []compute.Arg{{Name: "class", Unit: "1", Doc: "index of the class", Low: 0, High: 3, Choices: classNames[:]}, {Name: "insulating", Unit: unit, Doc: "insulating from here on", Low: 0, High: 1e308}},
		Covers:  []string{"ClassScheme." + method, "ClassScheme.Name", "ClassScheme.Limits"},
		Source:  schemes[0].source,
		Eval: func(dst, a []float64) error {
			s := schemes[int(a[0])]
			c, err := of(s, a[1])
			dst[0] = float64(c)
			_, dst[1] = s.Limits()
			return err
		},
	}
}

func standardEntries() []compute.Entry {
	electrodes, limits := NamedElectrodes(), PassLimits()
	var electrodeNames, limitNames []string
	for _, e := range electrodes {
		electrodeNames = append(electrodeNames, e.Name)
	}
	for _, l := range limits {
		limitNames = append(limitNames, l.Name)
	}
	return []compute.Entry{
		classEntry("OfSheet", "Ω", "surface resistivity", []*ClassScheme{&ClassEIA541},
			func(s *ClassScheme, v float64) (Class, error) { return s.OfSheet(units.SheetResistance(v)) }),
		classEntry("OfRing", "Ω", "ring resistance", []*ClassScheme{&ClassIEC61340_5_3, &ClassIEC60079_32_1Surface},
			func(s *ClassScheme, v float64) (Class, error) { return s.OfRing(units.Resistance(v)) }),
		classEntry("OfVolume", "Ω·m", "volume resistivity", []*ClassScheme{&ClassEIA541Volume, &ClassIEC60079_32_1},
			func(s *ClassScheme, v float64) (Class, error) { return s.OfVolume(units.VolumeResistivity(v)) }),
		{
			Name: "decay.NamedElectrodes", Doc: "Surface resistivity by the electrode of a standard, ρs = K·R, and back.",
			Args:    []compute.Arg{choice("electrode", "standard and form", electrodeNames), {Name: "r", Unit: "Ω", Doc: "resistance between the electrodes", Low: 1e-3, High: 1e24}},
			Results: []compute.Arg{resRatio("factor", "K"), {Name: "rho_s", Unit: "Ω", Doc: "surface resistivity, per square", Low: 0, High: 1e308}, {Name: "r", Unit: "Ω", Doc: "the resistance again", Low: 0, High: 1e308}},
			Covers:  []string{"NamedElectrodes", "Electrode.SheetResistance", "Electrode.Resistance"},
			Source:  known.Source{Provenance: known.Memory, Cite: "the standards named", Note: "dimensions partly from memory: see the source of each electrode"},
			Eval: func(dst, a []float64) error {
				e := electrodes[int(a[0])].Electrode
				s := e.SheetResistance(units.Resistance(a[1]))
				dst[0], dst[1], dst[2] = e.Factor(), float64(s), float64(e.Resistance(s))
				return nil
			},
		},
		{
			Name: "decay.PassLimits", Doc: "Does an exponential of relaxation time τ pass the decay limit of a standard, and which τ just passes.",
			Args:    []compute.Arg{choice("limit", "standard and edition", limitNames), argTime("tau", "relaxation time of the sample")},
			Results: []compute.Arg{{Name: "passes", Unit: "1", Doc: "1 if it does", Low: 0, High: 1}, resTime("t", "when the sample reaches the fraction"), resTime("tau_limit", "relaxation time that just passes")},
			Covers:  []string{"PassLimits", "PassLimit.Tau", "PassLimit.Passes"},
			Source:  known.Source{Provenance: known.Published, Cite: "the standards named", Note: "read second-hand or from memory: see the source of each limit"},
			Eval: func(dst, a []float64) error {
				p := limits[int(a[0])]
				l, err := NewExponential(units.Time(a[1]))
				if err != nil {
					return err
				}
				ok, t, err := p.Passes(l)
				dst[0], dst[1], dst[2] = one(ok), float64(t), float64(p.Tau())
				return err
			},
		},
		{
			Name: "decay.OffsetSwing", Doc: "Offset (mean) and swing (peak to peak) of four readings of a plate.",
			Args: []compute.Arg{{Name: "v1", Unit: "V", Doc: "reading", Low: -1e9, High: 1e9}, {Name: "v2", Unit: "V", Doc: "reading", Low: -1e9, High: 1e9},
				{Name: "v3", Unit: "V", Doc: "reading", Low: -1e9, High: 1e9}, {Name: "v4", Unit: "V", Doc: "reading", Low: -1e9, High: 1e9}},
			Results: []compute.Arg{{Name: "offset", Unit: "V", Doc: "mean", Low: -1e9, High: 1e9}, {Name: "swing", Unit: "V", Doc: "peak to peak", Low: 0, High: 2e9}},
			Covers:  []string{"OffsetSwing"},
			Source:  derived("mean and range"),
			Eval: func(dst, a []float64) error {
				v := make([]units.Voltage, len(a))
				for i := range a {
					v[i] = units.Voltage(a[i])
				}
				o, s := OffsetSwing(v)
				dst[0], dst[1] = float64(o), float64(s)
				return nil
			},
		},
		{
			Name: "decay.FloatingFilm.Net", Doc: "Net charge of a film in a free span, as a field meter sees it, after a charge on both faces.",
			Args: args(argsLayer(""), []compute.Arg{argSheet("face_a"), argSheet("face_b"), argLength("wavelength", "of the charge along the film"),
				{Name: "sigma_a", Unit: "C/m²", Doc: "amplitude on face A", Low: -1, High: 1}, {Name: "sigma_b", Unit: "C/m²", Doc: "amplitude on face B, not −sigma_a", Low: -1, High: 1}, argAge("t", "time")}),
			Results: []compute.Arg{resRatio("fraction", "of the net charge at the start")},
			Covers:  []string{"FloatingFilm.Net"},
			Source:  derived("Laplace's equation with charge conservation at each face"),
			Eval: func(dst, a []float64) error {
				f, err := NewFloatingFilm(Film{layerOf(a), units.SheetResistance(a[3]), units.SheetResistance(a[4])}, units.Length(a[5]))
				if err != nil {
					return err
				}
				net, err := f.Net(units.SurfaceChargeDensity(a[6]), units.SurfaceChargeDensity(a[7]))
				if err != nil {
					return err
				}
				dst[0] = net(units.Time(a[8]))
				return nil
			},
		},
	}
}
