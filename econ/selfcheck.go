package econ

import (
	"context"
	"fmt"

	"afterpour/chem/route"
)

// Result says how a proof came out.
type Result string

// The results of a proof.
const (
	Proved Result = "proved" // looked at, and it holds
	Noted  Result = "noted"  // nothing is wrong with the figures, but somebody should know
	Failed Result = "failed" // a figure of this appraisal is not to be trusted
)

// Proof is one thing that the self-check looked at over a whole appraisal.
type Proof struct {
	ID     string   // "conservation", "ledger", …
	Claim  string   // what was to be shown, in words
	Result Result   //
	Text   string   // how it came out, in a sentence, with how much was looked at
	Found  []string // each thing that is wrong or worth knowing, in words; not more than mostFound
	more   int      // further ones that are not listed
}

// mostFound bounds the list of findings of one proof.
const mostFound = 20

// proofOf starts a proof that holds until something is found.
func proofOf(id, claim string) *Proof { return &Proof{ID: id, Claim: claim, Result: Proved} }

// wrong enters a finding that makes the figures untrustworthy.
func (p *Proof) wrong(format string, args ...any) {
	p.Result = Failed
	p.list(fmt.Sprintf(format, args...))
}

// note enters a finding that does not touch the figures themselves.
func (p *Proof) note(format string, args ...any) {
	if p.Result == Proved {
		p.Result = Noted
	}
	p.list(fmt.Sprintf(format, args...))
}

func (p *Proof) list(text string) {
	if len(p.Found) == mostFound {
		p.more++
		return
	}
	p.Found = append(p.Found, text)
}

// done closes a proof with the sentence that says how much was looked at.
func (p *Proof) done(format string, args ...any) Proof {
	p.Text = fmt.Sprintf(format, args...)
	if p.more > 0 {
		p.Found = append(p.Found, fmt.Sprintf("and %d more of the kind", p.more))
	}
	return *p
}

// Selfcheck appraises the lot of a request and proves the appraisal: that no
// element is lost or made over any plan, that the money is the sum of its
// lines and the lines are the ledger's, that every figure has a source, that
// every equilibrium was found. It notes prices that are stale or undated, and
// inputs that nobody measured and that would turn the verdict.
//
// It works out the lot some dozens of times. Errors: those of Appraise.
func Selfcheck(ctx context.Context, req Request) (*Appraisal, []Proof, error) {
	a, err := Appraise(ctx, req)
	if err != nil {
		return nil, nil, err
	}
	s, err := newSubject(a, req)
	if err != nil {
		return nil, nil, err
	}
	proofs := []Proof{
		Conservation(a), Masses(a), Ledger(a), Sums(a), Standings(a), Finite(a), FigureSources(a), TableSources(),
	}
	for _, prove := range []func(context.Context) (Proof, error){s.draws, s.decisive} {
		p, err := prove(ctx)
		if err != nil {
			return nil, nil, err
		}
		proofs = append(proofs, p)
	}
	return a, append(proofs, PriceDates(a, req.Book, req.Today)), nil
}

// worked calls look for every plan that was carried out to its end on paper and
// returns how many that are, and how many were blocked on the way.
func (a *Appraisal) worked(look func(p *PricedPlan, o *route.Outcome)) (plans, blocked int) {
	for i := range a.Plans {
		p := &a.Plans[i]
		if p.Outcome == nil || p.Outcome.Blocked != nil {
			blocked++
			continue
		}
		plans++
		look(p, p.Outcome)
	}
	return plans, blocked
}

// plural writes a count with its noun.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
