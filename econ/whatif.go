package econ

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// WhatIf answers what would be if single figures were others. It holds the
// request as it was and its appraisal, changes neither, and may be used by
// several goroutines at once.
type WhatIf struct {
	req     Request
	base    *Appraisal
	sliders []Slider
}

// Move puts one slider to a value, in the slider's unit.
type Move struct {
	ID    string
	Value float64
}

// ErrNoSlider means that no figure goes by that id.
var ErrNoSlider = errors.New("econ: no such figure to move")

// ErrOutOfRange means a value that a figure cannot have.
var ErrOutOfRange = errors.New("econ: not a value that this figure can have")

// NewWhatIf appraises the request without draws and lists what can be moved.
// The errors are those of Appraise.
func NewWhatIf(ctx context.Context, req Request) (*WhatIf, error) {
	req.Draws = 0
	base, err := Appraise(ctx, req)
	if err != nil {
		return nil, err
	}
	return WhatIfOf(base, req), nil
}

// WhatIfOf is NewWhatIf with the appraisal of the request at hand.
func WhatIfOf(base *Appraisal, req Request) *WhatIf {
	req.Draws = 0
	w := &WhatIf{req: req, base: base}
	w.list()
	return w
}

// Base is the appraisal of the request as it was.
func (w *WhatIf) Base() *Appraisal { return w.base }

// Sliders lists what can be moved: the size of the lot, the content of each
// metal, the prices that the plans use with the wage, and the figures that the
// lot file states. Do not change the slice.
func (w *WhatIf) Sliders() []Slider { return w.sliders }

// Slider finds a slider by its id: one of the list, or of any other figure of
// the lot or price of the book.
func (w *WhatIf) Slider(id string) (Slider, error) {
	if i := slices.IndexFunc(w.sliders, func(s Slider) bool { return s.ID == id }); i >= 0 {
		return w.sliders[i], nil
	}
	ref, known := w.req.Figures.ByID(id)
	switch {
	case !known:
		return Slider{}, fmt.Errorf("%w: %q", ErrNoSlider, input.Clean(id, 80))
	case strings.HasPrefix(id, "price/"):
		p, err := w.req.Book.Find(id)
		if err != nil {
			return Slider{}, fmt.Errorf("%w: %q", ErrNoSlider, input.Clean(id, 80))
		}
		return priceSlider(p, w.req.Figures.Get(ref), w.base.Currency), nil
	}
	return statedSlider(w.req.Figures.Get(ref)), nil
}

// list makes the sliders.
func (w *WhatIf) list() {
	w.sliders = append(w.sliders, factorSlider(SliderSize, "size of the lot", GroupLot, math.Inf(1)))
	for _, m := range w.base.Report.Metals {
		if !(m.Contained > 0) {
			continue
		}
		most := mostContent(w.req.Figures, w.req.Lot, m.Metal)
		w.sliders = append(w.sliders, factorSlider(SliderContent(m.Metal), "content of "+elementName(m.Metal), GroupContent, most))
	}
	var wage []Slider
	used := w.base.PricesUsed()
	for _, p := range w.req.Book.prices {
		if !slices.Contains(used, p.ID) && p.Group != "labour" {
			continue
		}
		s := priceSlider(p, w.req.Figures.Get(p.Ref), w.base.Currency)
		if s.Group == GroupWage {
			wage = append(wage, s)
			continue
		}
		w.sliders = append(w.sliders, s)
	}
	w.sliders = append(w.sliders, wage...)
	for _, ref := range w.req.Lot.Figures() {
		if fig := w.req.Figures.Get(ref); fig.Dist.Mean > 0 || fig.Text != "" {
			w.sliders = append(w.sliders, statedSlider(fig))
		}
	}
}

// elementName is an element's name in small letters, its symbol if it has none.
func elementName(symbol string) string {
	e, err := substance.ElementBySymbol(symbol)
	if err != nil {
		return symbol
	}
	return strings.ToLower(e.Name)
}

// At appraises the lot as it would be after some moves, without draws. Without
// moves it is Base itself: what was moved is put back by leaving it out. Where
// prices alone move, the plans are not carried out anew, which takes some
// milliseconds.
//
// Errors: ErrNoSlider, ErrOutOfRange, and those of Appraise.
func (w *WhatIf) At(ctx context.Context, moves ...Move) (*Appraisal, error) {
	if len(moves) == 0 {
		return w.base, nil
	}
	req, quick, err := w.moved(moves)
	switch {
	case err != nil:
		return nil, err
	case quick:
		return Reprice(ctx, w.base, req)
	}
	return Appraise(ctx, req)
}

// Request is the request with the moves made, for whoever wants its odds too.
func (w *WhatIf) Request(moves ...Move) (Request, error) {
	req, _, err := w.moved(moves)
	return req, err
}

// moved makes the moves in a register of its own and tells whether they are of
// prices alone. Figures move before the factors on the whole lot do.
func (w *WhatIf) moved(moves []Move) (req Request, quick bool, err error) {
	req, quick = w.req, true
	req.Figures = w.req.Figures.Clone()
	moves = slices.Clone(moves)
	slices.SortStableFunc(moves, func(a, b Move) int { return moveOrder(a.ID) - moveOrder(b.ID) })
	for _, m := range moves {
		s, err := w.Slider(m.ID)
		if err != nil {
			return req, false, err
		}
		if !(m.Value >= s.Least && m.Value <= s.Most) {
			return req, false, fmt.Errorf("%w: %s at %g %s; it goes from %g to %g", ErrOutOfRange, s.Label, m.Value, s.Unit, s.Least, s.Most)
		}
		quick = quick && s.Quick
		w.move(req.Figures, s, m.Value)
	}
	return req, quick, nil
}

// moveOrder puts single figures first, then contents, then the size.
func moveOrder(id string) int {
	switch {
	case id == SliderSize:
		return 2
	case strings.HasPrefix(id, sliderContent):
		return 1
	}
	return 0
}

func (w *WhatIf) move(figs *input.Figures, s Slider, value float64) {
	switch {
	case s.ID == SliderSize:
		scaleLot(figs, w.req.Lot, value)
	case strings.HasPrefix(s.ID, sliderContent):
		scaleContent(figs, w.req.Lot, strings.TrimPrefix(s.ID, sliderContent), value)
	default:
		if ref, ok := figs.ByID(s.ID); ok {
			figs.Add(moved(figs.Get(ref), s.base(value)))
		}
	}
}

// pricesOf is the register of the base with the prices of a request.
func (w *WhatIf) pricesOf(req Request) *input.Figures {
	figs := w.base.Figures.Clone()
	for _, p := range req.Book.prices {
		figs.Add(req.Figures.Get(p.Ref))
	}
	return figs
}
