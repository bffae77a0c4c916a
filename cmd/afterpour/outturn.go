package main

import (
	"context"
	"errors"
	"fmt"

	"afterpour/chem/store"
	"afterpour/econ"

	"github.com/spf13/cobra"
)

// outturnCall is one call of outturn.
type outturnCall struct {
	ranking
	plan     string
	list     bool
	confirm  bool
	replaces int
}

// outturnCommand notes what really came out of a lot.
func (p *program) outturnCommand() *cobra.Command {
	c := outturnCall{ranking: ranking{seed: 1}}
	cmd := &cobra.Command{
		Use:   "outturn LOT.toml [NAME=AMOUNT...]",
		Short: "Note what really came out, for the next estimate to learn from",
		Long: `Outturn notes what came out of a lot against the plan that it was worked by.
Each NAME=AMOUNT is one thing: a product by the name of its sale, its fineness
if it was found, the hours, a reagent as used. It is added to the file
LOT.outturn.toml beside the lot; what stands there is never changed.

The next estimates of lots in that folder use it: losses and hands-on times of
the route move from what its file says towards your own. A product with more
metal than the lot can hold is noted, questioned, and not learned from, unless
--confirm says that it is right. --list shows all that was noted of the lot and
what has been learned; ` + "`rank --no-outturns`" + ` leaves it all aside.`,
		Example: `  afterpour outturn strip.toml --plan copper-cementation+dispose \
      silver-bar="41.2 g" fineness=985 hours="2.5 h" copper-scrap="16 g"
  afterpour outturn strip.toml --list`,
		Args: usageArgs(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return p.outturn(cmd, c, args[0], args[1:]) },
	}
	cmd.Flags().StringVar(&c.plan, "plan", "", "`ID` of the plan that was worked, as rank lists it")
	cmd.Flags().BoolVar(&c.list, "list", false, "show what was noted, and what was learned from it")
	cmd.Flags().BoolVar(&c.confirm, "confirm", false, "more than the lot can hold is right all the same: learn from it")
	cmd.Flags().IntVar(&c.replaces, "replaces", 0, "`NUMBER` of the entry that this one corrects")
	cmd.Flags().BoolVar(&c.json, "json", false, "print one JSON object")
	return cmd
}

func (p *program) outturn(cmd *cobra.Command, c outturnCall, name string, noted []string) error {
	switch {
	case name == stdinName:
		return usagef("outturn notes beside the lot's file: name it")
	case c.list && len(noted) > 0:
		return usagef("--list notes nothing: leave %q out, or leave --list out", noted[0])
	case !c.list && c.plan == "":
		return usagef("--plan: by which plan was it worked? `rank` lists them")
	case c.replaces < 0:
		return usagef("--replaces %d: entries are counted from 1", c.replaces)
	}
	if err := p.prepare(cmd, &c.ranking); err != nil {
		return err
	}
	f, err := p.readFile(cmd.Context(), name)
	if err != nil {
		return p.fail(c.json, name, err)
	}
	if c.list {
		return p.listOutturns(&c, f)
	}
	return p.noteOutturn(cmd.Context(), &c, f, noted)
}

// noteOutturn adds an entry to the lot's file of outturns.
func (p *program) noteOutturn(ctx context.Context, c *outturnCall, f file, noted []string) error {
	bare := c.ranking
	bare.alone = true // an outturn is set against the routes' own figures
	a, err := p.appraise(ctx, &bare, f)
	if err != nil {
		return p.fail(c.json, f.name, err)
	}
	expected, err := econ.Expect(ctx, a, c.plan)
	if errors.Is(err, econ.ErrNoSuchPlan) {
		return usageError{err}
	}
	if err != nil {
		return p.fail(c.json, f.name, err)
	}
	entry, err := expected.Outturn(p.today(), noted)
	if err != nil {
		return usageError{err}
	}
	entry.Confirmed, entry.Replaces = c.confirm, c.replaces
	if _, err := p.history(f.name); err != nil && !c.alone {
		return p.fail(c.json, f.name, err) // before anything is written
	}
	path := econ.OutturnName(f.name)
	if there, err := p.readOutturns(path); err == nil && c.replaces > len(there) {
		return usagef("--replaces %d: %s holds %d entries", c.replaces, path, len(there))
	}
	if _, err := store.Append(p.layer, path, func(old []byte) ([]byte, error) {
		return econ.AppendOutturn(path, a.Lot, old, entry)
	}); err != nil && !errors.Is(err, store.ErrNotSynced) {
		return p.fail(c.json, f.name, err)
	}
	list, err := p.readOutturns(path)
	if err != nil {
		return p.fail(c.json, f.name, err)
	}
	return p.tellOutturns(c, f, path, list[max(0, len(list)-1):])
}

// listOutturns shows all entries of a lot.
func (p *program) listOutturns(c *outturnCall, f file) error {
	path := econ.OutturnName(f.name)
	list, err := p.readOutturns(path)
	if err != nil {
		return p.fail(c.json, f.name, err)
	}
	return p.tellOutturns(c, f, path, list)
}

// tellOutturns shows entries, and what all that lie beside the lot have taught.
func (p *program) tellOutturns(c *outturnCall, f file, path string, list []econ.Outturn) error {
	figures := c.library.Figures().Clone()
	learning, err := p.learn(&c.ranking, f, figures)
	if err != nil {
		return p.fail(c.json, f.name, err)
	}
	if c.json {
		return p.printJSON(newOutturnsJSON(f.name, path, list, learning))
	}
	return p.printText(outturnsText(path, list, learning))
}

// outturnsText prints entries beside what was expected.
func outturnsText(path string, list []econ.Outturn, learning *econ.Learning) string {
	w := &page{}
	if len(list) == 0 {
		w.text("", "Nothing is noted in %s yet.", path)
	}
	for i := range list {
		w.outturn(&list[i])
	}
	if sentences := learning.Sentences(); len(sentences) > 0 {
		w.heading("Learned from the outturns in this folder")
		for _, s := range sentences {
			w.text("  - ", "%s", s)
		}
	}
	return w.String()
}

// outturn prints one entry.
func (p *page) outturn(o *econ.Outturn) {
	p.heading(fmt.Sprintf("%s: %s, %s", o.Where(), o.Date.Format("2006-01-02"), o.Plan))
	if o.Replaces > 0 {
		p.text("  ", "in place of entry %d", o.Replaces)
	}
	rows := [][]string{{"", "noted", "expected", "difference"}}
	for i := range o.Products {
		m := &o.Products[i]
		rows = append(rows, []string{m.Product + ", " + m.Metal + " in it", outturnMass(m.MetalMass.Mean), outturnMass(m.Expected.Mean), difference(m.MetalMass.Mean, m.Expected.Mean)})
		rows = append(rows, []string{"of what the lot holds", percent(m.Recovery()), percent(m.Expected.Mean / m.Contained.Mean), ""})
	}
	rows = hoursRow(rows, "hands-on time", o.HandsOn)
	rows = hoursRow(rows, "from beginning to end", o.Elapsed)
	for _, u := range o.Used {
		rows = append(rows, []string{u.Reagent + " used", outturnAmount(u.Kind, u.Used), outturnAmount(u.Kind, u.Expected), difference(u.Used, u.Expected)})
	}
	p.table("  ", []align{left, right, right, right}, rows)
	if o.Note != "" {
		p.text("  note: ", "%s", o.Note)
	}
	for _, q := range o.Questions() {
		if o.Confirmed {
			p.text("  ! ", "%s You have confirmed it.", q)
			continue
		}
		p.text("  ? ", "%s It is not learned from. If it is right, note it again with --confirm --replaces %d.", q, o.Number)
	}
}

func hoursRow(rows [][]string, what string, h *econ.OutturnHours) [][]string {
	if h == nil {
		return rows
	}
	return append(rows, []string{what, hours(h.Noted), hours(h.Expected), difference(h.Noted, h.Expected)})
}
