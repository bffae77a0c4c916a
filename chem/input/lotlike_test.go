package input

import "afterpour/chem/units"

// decodeLotlike takes a document apart as a caller does, so that tests see the
// problems that a caller would. Its keys are those of a lot file, and some of
// types that lots do not have.
func decodeLotlike(d *Document) error {
	root := d.Root()
	if root.Require("title", `write title = "…"`) {
		root.String("title")
	}
	root.Date("date")
	root.Strings("declared")
	root.Bool("pooled")
	root.Int("lots_per_year")
	if vessel, ok := root.Table("vessel"); ok {
		vessel.Figure("liquid", units.VolumeKind)
		vessel.Figure("temperature", units.TemperatureKind)
		vessel.Figure("ph", units.Number)
		vessel.Float("factor")
		vessel.Close()
	}
	for _, piece := range root.Tables("dissolved") {
		if piece.Require("mass", `write mass = "410 g"`) {
			piece.Figure("mass", units.MassKind)
		}
		if share, ok := piece.Table("share"); ok {
			for _, element := range share.Keys() {
				share.Figure(element, units.Fraction)
			}
			share.Close()
		}
		piece.Close()
	}
	root.Close()
	return d.Err()
}

// problemsOf reads and decodes a file, and returns what is wrong with it.
func problemsOf(name string, data []byte) error {
	d, err := Parse(name, data)
	if err != nil {
		return err
	}
	return decodeLotlike(d)
}
