package lot

import (
	"errors"
	"fmt"
	"strings"

	"afterpour/chem/input"
)

// Question is one of the guided entry: what a person is asked who describes a
// lot for the first time. Every one may be left blank.
type Question struct {
	ID      string
	Ask     string
	Explain string // why it is asked, and how to write it
	Example string
	Blank   string // what a blank costs
}

// questions stand in the order in which a person knows the answers: what went
// in, what stands there, what was found in it.
var questions = []Question{
	{"title", "What do you call this lot?", "What is written on the jar, so that you find it again.", "Contact strip, jar 3", "it is called after what was dissolved"},
	{"what", "What was dissolved?", "In your own words; the next questions ask how much, and of what.", "silver-plated contacts", "nothing is lost"},
	{"mass", "How much of it went in?", "As weighed, with its unit; a doubt after ± (or +-) if you know it.", "410 g ± 2 g", "the metal must come from an assay or a solid instead"},
	{"of", "What was it made of?", "An alloy by its name, or each metal with its share; one may be the rest.", "sterling 925, or Ag 8 % ± 1 %, Cu 64 %, Zn rest", "the piece cannot be counted"},
	{"by", "What dissolved it?", "The acid or etchant.", "nitric acid", "free acid and the salts in it stay unknown"},
	{"acid", "How much of that was used?", "The bottle's strength after the amount, if you know it; a mixture one by one, with + between.", "430 mL of 68 %", "free acid is unknown, and with it how much copper or lye it will eat"},
	{"poured", "What else was poured in?", "Water, other acids, salt, lye: amount and name, with ; between. Chloride matters most.", "2.5 L water; 13.5 mL hydrochloric acid 37 %", "taken as nothing"},
	{"liquid", "How much liquid stands there now?", "By the marks on the jar is good enough.", "3.2 L ± 5 %", "taken as what was poured in, with a wide doubt"},
	{"ph", "What pH does it show?", "Indicator paper will do.", "1.5 ± 0.5", "free acid rests on the acid poured in alone, a wide range"},
	{"settled", "Has anything settled or been filtered off?", "Mass as it lies there and what it is; the share of water after a comma.", "38 g AgCl, 30 % moisture", "only what must have settled is taken to have"},
	{"assays", "Has anything been measured in it?", "Metal, figure and method, with ; between.", "Ag 4.9 g/L ± 4 % by AAS; Cu 21 g/L", "the contents rest on what went in alone"},
	{"declared", "Is anything else in it that one should know?", "Cyanide, mercury, ammonia, cadmium, …, with commas between.", "mercury", "no caution is raised for it"},
}

// Questions returns the questions of the guided entry, in their order.
func Questions() []Question { return append([]Question(nil), questions...) }

// Answers are what a person typed, by the ids of the questions; under "date"
// stands the day, as 2026-11-02.
type Answers map[string]string

// ErrAnswer is the kind of error of an answer that cannot be understood.
var ErrAnswer = errors.New("lot: this answer is not understood")

// AnswerError says what is wrong with an answer.
type AnswerError struct{ ID, Message, Hint string }

// Error is the message with the hint.
func (e *AnswerError) Error() string {
	if e.Hint == "" {
		return e.Message
	}
	return e.Message + "; " + e.Hint
}

// Unwrap makes it an ErrAnswer.
func (e *AnswerError) Unwrap() error { return ErrAnswer }

// blanks are the words of one who does not know.
var blanks = map[string]bool{
	"": true, "?": true, "-": true, "none": true, "no": true, "nothing": true, "unknown": true, "don't know": true, "do not know": true,
}

// given is an answer without what means "I do not know".
func (a Answers) given(id string) string {
	text := strings.TrimSpace(a[id])
	if blanks[strings.ToLower(text)] {
		return ""
	}
	return text
}

// File writes the answers as a lot file. The error is an *AnswerError about the
// first answer that cannot be understood.
func (a Answers) File(name string) ([]byte, error) {
	w := &guideWriter{answers: a, made: map[string]string{}}
	if err := w.write(); err != nil {
		return nil, err
	}
	data := []byte(w.text.String())
	return data, w.blame(readable(name, data))
}

// Understood says how an answer is taken: figures with their doubts, names as
// the tables have them; "" for a blank. Errors are those of File.
func (a Answers) Understood(name, id string) (string, error) {
	if a.given(id) == "" {
		return "", nil
	}
	w := &guideWriter{answers: a, made: map[string]string{}}
	if err := w.write(); err != nil {
		return "", err
	}
	data := []byte(w.text.String())
	doc, err := input.Parse(name, data)
	if err != nil {
		return "", w.blame(err)
	}
	figs := new(input.Figures)
	if _, err := Decode(doc, figs); err != nil {
		return "", w.blame(err)
	}
	if w.idle[id] != "" {
		return w.idle[id], nil
	}
	text, part := "", ""
	for _, s := range AllSaid(doc, figs) {
		if w.questionOf(s.Path) != id || s.Text == "" || s.Key == "in" {
			continue
		}
		text += separator(text, s.Part == part) + shown(s)
		part = s.Part
	}
	return text, nil
}

// separator stands before what follows a text: another value of the same entry,
// or another entry.
func separator(before string, same bool) string {
	switch {
	case before == "":
		return ""
	case same:
		return ", "
	}
	return "; "
}

// shown is a value as it was understood, with its element if it is a share.
func shown(s Said) string {
	text := s.Text
	if s.Taken != "" {
		text = s.Taken
	}
	if label := shareLabel(s.Key); label != "" {
		text = label + " " + text
	}
	return text
}

// shareLabel names what is not plain from the text: the element of a share.
func shareLabel(key string) string {
	if _, symbol, ok := strings.Cut(key, "share."); ok {
		return symbol
	}
	if key == "moisture" {
		return "water"
	}
	return ""
}

// blame turns what the strict reading found into what is wrong with an answer.
func (w *guideWriter) blame(err error) error {
	var problems input.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		return err
	}
	for _, p := range problems {
		if id := w.questionOf(p.Key); id != "" {
			return &AnswerError{ID: id, Message: p.Message, Hint: w.hint(id, p)}
		}
	}
	return &AnswerError{ID: "title", Message: problems[0].Message, Hint: problems[0].Hint}
}

// hint shows how the answer is written, where the hint of the file would speak
// of its keys.
func (w *guideWriter) hint(id string, p input.Problem) string {
	if p.Hint != "" && !strings.Contains(p.Hint, " = ") {
		return p.Hint
	}
	for _, q := range questions {
		if q.ID == id {
			return "for example " + q.Example
		}
	}
	return ""
}

// questionOf finds the question that a path of the file was written for: the
// longest path that was noted and leads there.
func (w *guideWriter) questionOf(path string) string {
	id, length := "", -1
	for made, q := range w.made {
		leads := path == made || strings.HasPrefix(path, made+".") || strings.HasPrefix(path, made+"[")
		if leads && len(made) > length {
			id, length = q, len(made)
		}
	}
	return id
}

// Contents reads a described lot and reports what is in it, by the limiting
// reactions: quick, for use while the answers are typed.
func Contents(name string, data []byte) (Report, error) {
	doc, err := input.Parse(name, data)
	if err != nil {
		return Report{}, err
	}
	figs := new(input.Figures)
	l, err := Decode(doc, figs)
	if err != nil {
		return Report{}, err
	}
	m, err := l.Model(figs)
	if err != nil {
		return Report{}, fmt.Errorf("lot: %w", err)
	}
	return m.Report(figs.Central()), nil
}
