package route

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"afterpour/chem/equil"
	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Job is everything a simulation rests on, as plain values: the same job gives
// the same outcome.
type Job struct {
	Inventory   lot.Inventory
	Values      input.Values
	Bench       Bench
	Shelf       Shelf
	Equilibrium equil.Equilibrator // nil: limiting reactions
	Trace       bool               // keep for every figure what it rests on
	Record      bool               // keep for every step what somebody at the bench has to be told

	Declared     []string // what the lot is said to hold: "cyanide", "mercury", …
	Acknowledged []string // rules whose stop the practitioner has read and lifted

	rules  ruleBook
	orders standingOrders
}

// speciation is the equilibrium used where a job names none: the solver with
// its reviewed set of constants.
var speciation = sync.OnceValues(func() (*equil.Speciation, error) { return equil.NewSpeciation("default") })

// Species the step kinds name themselves.
var (
	idWater   = substance.MustFind("H2O(l)")
	idH       = substance.MustFind("H^+")
	idOH      = substance.MustFind("OH^-")
	idNitrate = substance.MustFind("NO3^-")
	idCl      = substance.MustFind("Cl^-")
	idAg      = substance.MustFind("Ag^+")
	idCu2     = substance.MustFind("Cu^2+")
	idSulfate = substance.MustFind("SO4^2-")
	idAgCl    = substance.MustFind("AgCl(s)")
	idNO      = substance.MustFind("NO(g)")
	idNO2     = substance.MustFind("NO2(g)")
	idCl2     = substance.MustFind("Cl2(g)")
)

// slot is a named stream of a plan in progress.
type slot struct {
	name     string
	stream   substance.Stream
	releaseH float64 // hours over which a gas in it comes off
	route    string  // that left it, of a kept stream
}

// state is how far a plan has come: what stands where, what has left, and the
// ledger so far.
type state struct {
	slots   []slot
	kept    []slot // streams of earlier routes, waiting for the ending
	sold    []substance.Stream
	gone    substance.Stream // gas and steam that left
	entered substance.Stream // all that ever went in
	out     Outcome
	said    uint64  // rules that were said once, a bit each
	ledger  []Entry // of a forest, instead of the outcome's steps
}

// run carries one chain of routes out. It is thrown away afterwards.
type run struct {
	ctx context.Context
	job *Job
	state
	file  *File
	step  *StepFile
	rec   *StepRecord
	basis input.Set // inputs used by the step so far
	heatH float64   // hours of heating in this step
	// products is how many there were before this step, for its record.
	products int
	// batches is how many times the step is done to fit the vessel.
	batches float64

	node    *tree // place in a forest; nil outside one
	learn   bool  // note where searches for equilibrium end
	asked   int   // equilibria so far
	scratch StepRecord
	mem     *substance.Store // where streams are made; nil outside a forest
}

// clone returns a state that shares nothing that can change.
func (s state) clone() state {
	s.slots = cloneSlots(s.slots)
	s.kept = slices.Clone(s.kept) // never changed again once kept
	s.sold = slices.Clone(s.sold)
	s.gone, s.entered = s.gone.Clone(), s.entered.Clone()
	s.out.Steps = slices.Clone(s.out.Steps)
	s.out.Products = slices.Clone(s.out.Products)
	s.out.Reach = slices.Clone(s.out.Reach)
	s.out.HandedOn, s.out.KeptBeside = slices.Clone(s.out.HandedOn), slices.Clone(s.out.KeptBeside)
	return s
}

func cloneSlots(list []slot) []slot {
	list = slices.Clone(list)
	for i := range list {
		list[i].stream = list[i].stream.Clone()
	}
	return list
}

// Simulate carries a plan out on paper. A plan that chemistry, the bench or the
// air rules out comes back with Outcome.Blocked and the steps that were still
// possible; an error means a cancelled context or an unknown route.
func (lib *Library) Simulate(ctx context.Context, job Job, plan Plan) (Outcome, error) {
	list, err := lib.SimulateAll(ctx, job, []Plan{plan})
	if err != nil {
		return Outcome{Plan: plan}, err
	}
	return list[0], nil
}

// SimulateAll carries plans out, each as Simulate does, but a beginning that
// several plans share only once. Outcomes come in the order of the plans; those
// of plans that differ only in their ending share steps and products, which
// are not to be changed.
func (lib *Library) SimulateAll(ctx context.Context, job Job, plans []Plan) ([]Outcome, error) {
	full, err := defaults(job)
	if err != nil {
		return nil, err
	}
	done := map[string]state{"": start(job.Inventory.Vessel)}
	ended := map[string]Outcome{}
	list := make([]Outcome, len(plans))
	for i, plan := range plans {
		key := chainKey(plan.Routes)
		out, ok := ended[key]
		if !ok {
			if err := lib.chain(ctx, full, done, plan.Routes); err != nil {
				return nil, err
			}
			out = finish(done[key], job.Trace)
			out.UserRoutes = lib.userRoutes(plan.Routes)
			ended[key] = out
		}
		out.Plan = plan
		left := done[key]
		full.close(&out, &left, plan.Ending)
		list[i] = out
	}
	return list, nil
}

func start(vessel substance.Stream) state {
	return state{
		slots: []slot{{name: "vessel", stream: vessel.Clone()}}, entered: vessel.Clone(),
		gone: substance.NewStream(vessel.Temperature),
	}
}

// chain carries out what is not done yet of a chain of routes.
func (lib *Library) chain(ctx context.Context, job *Job, done map[string]state, routes []string) error {
	for n := 1; n <= len(routes); n++ {
		key, before := chainKey(routes[:n]), chainKey(routes[:n-1])
		if _, ok := done[key]; ok {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		f, err := lib.Route(routes[n-1])
		if err != nil {
			return err
		}
		r := &run{ctx: ctx, job: job, state: done[before].clone()}
		if f.Treatment {
			r.pool()
		}
		if r.out.Blocked == nil {
			r.out.Blocked = r.route(f)
		}
		done[key] = r.state
	}
	return nil
}

// route runs one route's steps, then hands its rest on as the next vessel.
func (r *run) route(f *File) *Block {
	r.file = f
	if r.node == nil && len(r.out.Steps) == 0 {
		if _, block := r.job.judge(r.slot("vessel").stream, atLot); block != nil {
			block.Route, block.Step = f.ID, "the lot as it stands"
			return block
		}
	}
	if block := r.reachable(f); block != nil {
		return block
	}
	for i := range f.Steps {
		if block := r.runStep(&f.Steps[i]); block != nil {
			block.Route = f.ID
			if block.Step == "" {
				block.Step = f.Steps[i].ID
			}
			return block
		}
	}
	r.handOn(f.rest)
	return nil
}

func (r *run) runStep(s *StepFile) *Block {
	r.open(s)
	defer r.flush()
	if s.Note != "" {
		r.note("%s", s.Note)
		r.say(s.Note)
	}
	for _, id := range s.Cautions {
		if r.node != nil {
			break
		}
		if c, err := hazardByID(id); err == nil {
			r.rec.Cautions = append(r.rec.Cautions, c)
		}
	}
	fired, block := r.before()
	if block != nil {
		return block
	}
	before := r.in().stream
	litres, kilograms := float64(before.LiquidVolume()), float64(before.SolidMass())
	r.recordBefore()
	if block := kinds[s.Kind].run(r); block != nil {
		return block
	}
	if r.rec.Skipped {
		r.rec.Entries, r.rec.Cautions = nil, nil
		return nil
	}
	r.times(litres, kilograms)
	r.recordAfter()
	for item, q := range s.Consumables {
		r.enter(Consumable, item, r.value(q), "pieces a step", q.Source)
	}
	return r.after(fired)
}

// open begins a step: with a record of its own or, in a forest, with one that is
// used again.
func (r *run) open(s *StepFile) {
	r.step = s
	r.basis, r.heatH, r.batches = nil, 0, 1
	if r.node != nil {
		r.scratch = StepRecord{Entries: r.scratch.Entries[:0], Reactions: r.scratch.Reactions[:0]}
		r.rec = &r.scratch
		return
	}
	r.out.Steps = append(r.out.Steps, StepRecord{
		Route: r.file.ID, Step: s.ID, Kind: s.Kind, Title: title(s), Stop: s.Stop,
	})
	r.rec = &r.out.Steps[len(r.out.Steps)-1]
}

// flush puts what a step of a forest took on the one ledger that is kept there.
func (r *run) flush() {
	if r.node == nil {
		return
	}
	for i := range r.scratch.Entries {
		if e := &r.scratch.Entries[i]; paid[e.Kind] {
			r.ledger = append(r.ledger, *e)
		}
	}
}

// paid are the kinds of entry that a plan is priced by.
var paid = [...]bool{Reagent: true, Electricity: true, Fuel: true, HandsOn: true, Elapsed: true, Consumable: true, Charge: false}

func title(s *StepFile) string {
	if s.Title != "" {
		return s.Title
	}
	return s.ID
}

// times enters the hours of the step: the hands-on time grows with what was in
// hand at its start, heating takes what the heater takes.
func (r *run) times(litres, kilograms float64) {
	hands := r.span(r.step.HandsOn, litres, kilograms) + (r.batches-1)*r.value(r.step.HandsOn.Fixed)
	wait := r.span(r.step.Wait, litres, kilograms) + (r.batches-1)*r.value(r.step.Wait.Fixed)
	r.enter(HandsOn, "", hands, "t = batches·t0 + a·V + b·m", r.sources(r.step.HandsOn)...)
	r.enter(Elapsed, "", hands+wait+r.heatH, "t = hands-on + wait + heating", r.sources(r.step.Wait)...)
}

func (r *run) span(s Span, litres, kilograms float64) float64 {
	return r.value(s.Fixed) + r.value(s.PerLitre)*litres + r.value(s.PerKilogram)*kilograms
}

func (r *run) sources(s Span) []string {
	if !r.job.Trace {
		return nil
	}
	var list []string
	for _, q := range []Quantity{s.Fixed, s.PerLitre, s.PerKilogram} {
		if q.Ref != input.NoRef && (len(list) == 0 || list[len(list)-1] != q.Source) {
			list = append(list, q.Source)
		}
	}
	return list
}

// value returns the plain value of a route figure, and notes that it was used;
// a figure the file leaves out is 0.
func (r *run) value(q Quantity) float64 {
	if q.Ref == input.NoRef {
		return 0
	}
	if r.job.Trace {
		r.basis = r.basis.With(q.Ref)
	}
	return r.job.Values.At(q.Ref)
}

// figure returns a step figure by its key, or otherwise where the file does
// not give it.
func (r *run) figure(name string, otherwise float64) float64 {
	q, ok := r.step.Figures[name]
	if !ok || q.Ref == input.NoRef {
		return otherwise
	}
	v := r.value(q)
	r.set(name, q.Kind, v)
	return v
}

func (r *run) has(name string) bool {
	q, ok := r.step.Figures[name]
	return ok && q.Ref != input.NoRef
}

// source returns where a step figure comes from, for Why.
func (r *run) source(name string) string {
	if !r.job.Trace {
		return ""
	}
	return r.step.Figures[name].Source
}

// brings notes what comes into a plan from outside, leaves what goes into the
// air: the account that the balance closes.
func (r *run) brings(s substance.Stream) {
	if r.node == nil {
		r.entered.Mix(s)
	}
}

func (r *run) bringsMol(id substance.SpeciesID, mol float64) {
	if r.node == nil {
		r.entered.Mol[id] += mol
	}
}

func (r *run) leaves(s substance.Stream) {
	if r.node == nil {
		r.gone.Mix(s)
	}
}

func (r *run) leavesMol(id substance.SpeciesID, mol float64) {
	if r.node == nil {
		r.gone.Mol[id] += mol
	}
}

// slot returns the stream of that name, made empty if there is none yet. The
// pointer holds until the next new slot.
func (r *run) slot(name string) *slot {
	for i := range r.slots {
		if r.slots[i].name == name {
			return &r.slots[i]
		}
	}
	r.slots = append(r.slots, slot{name: name, stream: r.mem.Stream(units.Celsius(20))})
	return &r.slots[len(r.slots)-1]
}

func (r *run) in() *slot { return r.slot(r.step.In) }

// pour mixes a stream into the slot of that name.
func (r *run) pour(name string, s substance.Stream) {
	target := r.slot(name)
	if target.stream.Mass() == 0 {
		target.stream.Temperature = s.Temperature
	}
	target.stream.Mix(s)
}

// move empties the step's input into the slot of that name, if it is another.
func (r *run) move(name string) {
	if name == r.step.In {
		return
	}
	s := r.in().stream
	r.in().stream = r.mem.Stream(s.Temperature)
	r.pour(name, s)
}

// enter books an amount in the step's ledger. Zero and non-finite amounts are
// left out: a non-finite one would be a fault of this package, and its tests
// look for it.
func (r *run) enter(kind EntryKind, item string, amount float64, formula string, sources ...string) *Entry {
	if amount == 0 || math.IsNaN(amount) || math.IsInf(amount, 0) {
		return &Entry{}
	}
	for i := range r.rec.Entries { // repeated draws of one thing are one line
		if e := &r.rec.Entries[i]; kind != Reagent && e.Kind == kind && e.Item == item && e.Detail == "" {
			if kind == Vessel {
				e.Amount = math.Max(e.Amount, amount)
			} else {
				e.Amount += amount
			}
			return e
		}
	}
	e := Entry{Kind: kind, Item: item, Amount: amount}
	if r.job.Trace {
		e.Why = Why{Formula: formula, Inputs: r.basis.Union(r.in().stream.Inputs), Sources: sources}
	}
	r.rec.Entries = append(r.rec.Entries, e)
	return &r.rec.Entries[len(r.rec.Entries)-1]
}

func (r *run) note(format string, args ...any) {
	if !r.job.Trace {
		return // notes are for a reader of the central run
	}
	r.rec.Notes = append(r.rec.Notes, fmt.Sprintf(format, args...))
}

// skip marks the step as having nothing to do.
func (r *run) skip(reason string) *Block {
	r.rec.Skipped = true
	r.rec.Notes = []string{reason}
	return nil
}

// touch lets a stream rest on the inputs that the step has used.
func (r *run) touch(s *substance.Stream) {
	if r.job.Trace {
		s.Inputs = s.Inputs.Union(r.basis)
	}
}

// aged are oxides that come out of the fire. Cold or warm water without acid
// does not turn them back within the hours of a bench (common practice), though
// equilibrium with a strong nitrate liquor would; acid takes them by the
// reactions that a step names.
var aged = []substance.SpeciesID{
	substance.MustFind("CuO(s)"), substance.MustFind("ZnO(s)"), substance.MustFind("NiO(s)"), substance.MustFind("PbO(s)"),
}

// equilibrate brings a stream to equilibrium, aged oxides held apart.
func (r *run) equilibrate(s *substance.Stream) *Block {
	var held [4]float64
	for i, id := range aged {
		held[i], s.Mol[id] = s.Mol[id], 0
	}
	outcome, err := r.settle(s)
	for i, id := range aged {
		s.Mol[id] += held[i]
	}
	if err != nil {
		return &Block{Reason: "the equilibrium of the " + r.step.In + " could not be found: " + err.Error()}
	}
	for _, w := range outcome.Warnings {
		r.note("%s", w)
	}
	return nil
}

// vesselFits enters how full the vessel gets. What does not go into the largest
// vessel is done in batches, each with the step's fixed hours; more than
// mostBatches are no plan.
func (r *run) vesselFits(s substance.Stream) *Block {
	need, room := float64(s.LiquidVolume()+s.SolidVolume()), float64(r.job.Bench.LargestVessel)
	n := 1.0
	if need > room*(1+1e-9) {
		n = math.Ceil(need / room * (1 - 1e-9))
	}
	if !(room > 0) || n > mostBatches {
		return &Block{Reason: fmt.Sprintf("the step fills %s and the largest vessel on this bench holds %s: more than %d batches",
			units.Format(units.VolumeKind, need), units.Format(units.VolumeKind, room), mostBatches)}
	}
	r.enter(Vessel, "", need/n, "V = (V(liquid) + V(solid))/batches", "volumes from densities, chem/data")
	if n > r.batches {
		r.batches = n
		r.note("%.0f batches of %s", n, units.Format(units.VolumeKind, need/n))
	}
	return nil
}

// mostBatches is where splitting a step up stops being a plan. Assumption.
const mostBatches = 4

// heat books energy that the heater must deliver, with the share that reaches
// the vessel, and the hours it takes at the heater's power.
func (r *run) heat(joules, efficiency float64, formula string, sources ...string) *Block {
	if !(joules > 0) {
		return nil
	}
	if !(efficiency > 0) {
		efficiency = 1
	}
	wall := joules / efficiency
	power := float64(r.job.Bench.Heater)
	if !(power > 0) {
		return &Block{Reason: "the step needs heat and this bench has no heater"}
	}
	r.heatH += wall / power / 3600
	r.enter(Electricity, "heater", wall/3.6e6, formula, sources...)
	return nil
}

// handOn keeps what a route leaves beside, and passes its rest to the next.
func (r *run) handOn(rest []string) {
	r.recordHandOn(rest)
	next := r.mem.Stream(units.Celsius(20))
	for _, s := range r.slots {
		s.route = r.file.ID
		switch {
		case s.stream.Mass() == 0:
		case slices.Contains(rest, s.name):
			next.Mix(s.stream)
		default:
			r.kept = append(r.kept, s)
		}
	}
	r.slots = []slot{{name: "vessel", stream: next}}
}

// pool pours every liquor and wet sludge that a plan has left into one vessel,
// for a treatment: acid and alkaline liquors then spend each other. Slag and
// what was lost stay apart.
func (s *state) pool() {
	var dry []slot
	s.out.Pooled = nil
	for _, k := range s.kept {
		if k.stream.LiquidVolume() > 0 && k.name != "slag" && k.name != "lost" {
			s.slots[0].stream.Mix(k.stream)
			s.out.Pooled = append(s.out.Pooled, Portion{Route: k.route, Stream: k.name})
		} else {
			dry = append(dry, k)
		}
	}
	s.kept = dry
}

// finish turns everything that is left into waste by class and closes the
// balance.
func finish(s state, trace bool) Outcome {
	out := s.out
	if out.Blocked != nil {
		return out
	}
	left := append(slices.Clone(s.kept), s.slots...)
	out.Waste = classify(left, trace)
	if trace { // an account for tests, checks and readers; the draws of a simulation do without
		out.Balance = s.balance(left)
	}
	return out
}

// balance adds up what entered and what left, element by element.
func (s state) balance(left []slot) Balance {
	total := s.gone.Clone()
	for _, l := range left {
		total.Mix(l.stream)
	}
	for _, p := range s.sold {
		total.Mix(p)
	}
	b := Balance{ChargeIn: s.entered.Charge(), ChargeOut: total.Charge()}
	in, out := s.entered.ElementAmounts(nil), total.ElementAmounts(nil)
	for i, e := range elements() {
		if in[i] != 0 || out[i] != 0 {
			b.Elements = append(b.Elements, ElementBalance{Element: e.Symbol, In: in[i], Out: out[i]})
		}
	}
	return b
}
