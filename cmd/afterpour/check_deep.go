package main

import (
	"errors"
	"fmt"

	"afterpour/econ"

	"github.com/spf13/cobra"
)

// deepJSON is the self-check in the result of `check --deep --json`.
type deepJSON struct {
	Result     econ.Result `json:"result"` // the worst of its proofs
	PricesFile string      `json:"prices_file"`
	Plans      int         `json:"plans"`
	Proofs     []proofJSON `json:"proofs"`
}

// proofJSON is one proof: "proved", "noted" or "failed".
type proofJSON struct {
	ID     string      `json:"id"`
	Claim  string      `json:"claim"`
	Result econ.Result `json:"result"`
	Text   string      `json:"text"`
	Found  []string    `json:"found"`
}

// errSelfcheck is how a check ends of which a proof failed.
var errSelfcheck = errors.New("the self-check found figures that are not to be trusted")

// deepCheck proves the appraisal of a lot with the price book in use, and with
// what outturns beside it have taught.
func (p *program) deepCheck(cmd *cobra.Command, f file) (*deepJSON, error) {
	r := ranking{seed: 1}
	if err := p.prepare(cmd, &r); err != nil {
		return nil, err
	}
	req, err := p.request(&r, f)
	if err != nil {
		return nil, err
	}
	a, proofs, err := econ.Selfcheck(cmd.Context(), req)
	if err != nil {
		return nil, err
	}
	agreed, err := agree(f.name, r.book.name, a)
	if err != nil {
		return nil, err
	}
	return newDeepJSON(r.book.name, len(a.Plans), append(proofs, agreed)), nil
}

// request reads a lot, the price book and the outturns beside the lot into one
// register of figures. The problems of all files come back together.
func (p *program) request(r *ranking, f file) (econ.Request, error) {
	figures := r.library.Figures().Clone()
	residue, lotErr := decodeLot(f, figures)
	book, bookErr := r.decodeBook(figures)
	learning, historyErr := p.learn(r, f, figures)
	if err := together(lotErr, bookErr, historyErr); err != nil {
		return econ.Request{}, err
	}
	return econ.Request{
		Lot: residue, Figures: figures, Library: r.library, Book: book,
		Today: p.today(), Seed: r.seed, Draws: r.draws, Learning: learning,
	}, nil
}

func newDeepJSON(book string, plans int, proofs []econ.Proof) *deepJSON {
	object := &deepJSON{Result: econ.Proved, PricesFile: book, Plans: plans}
	for _, proof := range proofs {
		object.Proofs = append(object.Proofs, proofJSON{
			ID: proof.ID, Claim: proof.Claim, Result: proof.Result, Text: proof.Text, Found: orEmpty(proof.Found),
		})
		if proof.Result == econ.Failed || proof.Result == econ.Noted && object.Result == econ.Proved {
			object.Result = proof.Result
		}
	}
	return object
}

// err is the failure of the call, if a proof failed.
func (d *deepJSON) err() error {
	if d.Result == econ.Failed {
		return errSelfcheck
	}
	return nil
}

// proofWords say how a proof came out.
var proofWords = map[econ.Result]string{econ.Proved: "proved", econ.Noted: "not quite", econ.Failed: "NOT SO"}

// proofMarks stand before a proof, by how it came out.
var proofMarks = map[econ.Result]string{econ.Proved: "  = ", econ.Noted: "  ! ", econ.Failed: "  x "}

// selfcheck writes the proofs for people.
func (p *page) selfcheck(d *deepJSON) {
	p.heading(fmt.Sprintf("Self-check of %d plans with %s", d.Plans, d.PricesFile))
	noted, failed := 0, 0
	for _, proof := range d.Proofs {
		p.text(proofMarks[proof.Result], "%s: %s. %s", proof.Claim, proofWords[proof.Result], sentence(proof.Text))
		for _, f := range proof.Found {
			p.text("      - ", "%s", f)
		}
		noted += count(proof.Result == econ.Noted)
		failed += count(proof.Result == econ.Failed)
	}
	p.blank()
	switch {
	case failed > 0:
		p.text("", "Do not trust these figures: %d of %d proofs failed. That is a fault of the program, not of your files.", failed, len(d.Proofs))
	case noted > 0:
		p.text("", "The figures hold. %d of %d proofs have something that you should know.", noted, len(d.Proofs))
	default:
		p.text("", "The figures hold: all %d proofs.", len(d.Proofs))
	}
}
