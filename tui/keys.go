package tui

import "github.com/charmbracelet/bubbles/key"

// keyMap is every key of the program. Footer, help and dispatch all read it, so
// that they cannot disagree: a binding that is disabled leaves all three.
type keyMap struct {
	// Everywhere.
	Screens [screenCount]key.Binding
	Up, Down, PageUp, PageDown, First, Last,
	NextPart, PrevPart, Where, Back,
	Undo, Redo, Save, SaveAs, Help, Quit, Interrupt, Suspend key.Binding

	// In the standings.
	Open, Choose, ClearChoice, All, Odds key.Binding
	// Abreast.
	OnlyDifferences, Fold key.Binding
	// In a plan.
	NextPlan, PrevPlan, Drivers key.Binding
	// In the prices.
	Edit, Renew, OnlyUsed key.Binding
	// What if.
	Less, More, MuchLess, MuchMore, PutHereBack, AllBack key.Binding
	// Curves.
	NextCurve, PrevCurve, AsTable key.Binding
	// In a field.
	Accept, Cancel key.Binding
	// On the start page, and describing a lot.
	Describe, Next, Before, Finish key.Binding
	// For the bench sheet, and on it.
	Sheet, Tick, SaveSheet, Copy, Outturn, Confirm key.Binding
	// In a question.
	SaveLeave, LeaveUnsaved, Stay, Reload, KeepMine, Elsewhere, Later, PutBack, ThrowAway key.Binding
}

func bind(help, what string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(help, what))
}

// newKeyMap returns the keys. Digits open the screens in the order of the work;
// letters are the first of their word where that was free. A key that throws
// something away is never one that opens the question about it.
func newKeyMap() keyMap {
	k := keyMap{
		Up: bind("up", "up a row", "up", "k"), Down: bind("down", "down a row", "down", "j"),
		PageUp: bind("pgup", "up a page", "pgup"), PageDown: bind("pgdn", "down a page", "pgdown"),
		First: bind("home", "to the first row", "home", "g"), Last: bind("end", "to the last row", "end", "G"),
		NextPart: bind("tab", "next part", "tab"), PrevPart: bind("shift+tab", "part before", "shift+tab"),
		Where: bind("w", "where from", "w"), Back: bind("esc", "back", "esc"),
		Undo: bind("u", "undo", "u"), Redo: bind("r", "redo", "r", "ctrl+r"),
		Save: bind("s", "save", "s", "ctrl+s"), SaveAs: bind("S", "save as", "S"),
		Help: bind("?", "help", "?"), Quit: bind("q", "quit", "q"),
		Interrupt: bind("ctrl+c", "leave at once", "ctrl+c"), Suspend: bind("ctrl+z", "to the shell", "ctrl+z"),

		Open: bind("enter", "open", "enter"), Choose: bind("space", "set abreast", " "),
		ClearChoice: bind("c", "clear choice", "c"),
		All:         bind("a", "all plans", "a"),
		Odds:        bind("o", "odds", "o"),
		Less:        bind("left", "less", "left", "h", "-"), More: bind("right", "more", "right", "l", "+"),
		MuchLess: bind("[", "ten steps less", "["), MuchMore: bind("]", "ten steps more", "]"),
		NextCurve: bind("right", "next curve", "right", "l", "]"), PrevCurve: bind("left", "curve before", "left", "h", "["),
		AsTable:     bind("t", "as a table", "t"),
		PutHereBack: bind("0", "put this back", "0"), AllBack: bind("p", "put all back", "p"),
		Drivers:         bind("d", "what its doubt comes from", "d"),
		OnlyDifferences: bind("d", "only differences", "d"),
		Fold:            bind("enter", "fold or open", "enter"),
		NextPlan:        bind("right", "next plan", "right", "l", "]"), PrevPlan: bind("left", "plan before", "left", "h", "["),
		Edit: bind("enter", "edit", "enter"), Renew: bind("t", "still valid", "t"), OnlyUsed: bind("f", "only those used", "f"),
		Accept: bind("enter", "accept", "enter"), Cancel: bind("esc", "leave as it was", "esc"),

		Describe: bind("n", "describe a new lot", "n"),
		Next:     bind("enter", "next", "enter", "down"), Before: bind("esc", "question before", "esc", "up"), Finish: bind("tab", "see the verdict", "tab"),

		Sheet: bind("b", "bench sheet", "b"), Tick: bind("space", "tick off", " "), SaveSheet: bind("s", "save as", "s", "S"), Copy: bind("y", "copy", "y"),
		Outturn: bind("n", "note what came out", "n"), Confirm: bind("c", "it is so, note it", "c"),

		SaveLeave: bind("s", "save and leave", "s"), LeaveUnsaved: bind("x", "leave without saving", "x"), Stay: bind("esc", "stay", "esc"),
		Reload: bind("r", "reload", "r"), KeepMine: bind("k", "keep mine", "k"), Elsewhere: bind("a", "save as", "a"), Later: bind("esc", "decide later", "esc"),
		PutBack: bind("p", "put them back", "p"), ThrowAway: bind("x", "throw them away", "x"),
	}
	for i, name := range screenNames {
		digit := string(rune('1' + i))
		k.Screens[i] = bind(digit, name, digit)
	}
	return k
}

// group is some bindings under a heading of the help.
type group struct {
	title string
	keys  []key.Binding
}

// moving are the keys for going through a page.
func (k keyMap) moving() []key.Binding {
	return []key.Binding{k.Up, k.Down, k.PageUp, k.PageDown, k.First, k.Last, k.NextPart, k.PrevPart}
}

// here are the keys of one screen alone.
func (k keyMap) here(s screen) []key.Binding {
	switch s {
	case residueScreen:
		return []key.Binding{k.Edit}
	case standingsScreen:
		return []key.Binding{k.Open, k.Choose, k.All, k.ClearChoice, k.Odds, k.Sheet}
	case abreastScreen:
		return []key.Binding{k.Fold, k.OnlyDifferences}
	case planScreen:
		return []key.Binding{k.PrevPlan, k.NextPlan, k.Sheet, k.Drivers}
	case whatIfScreen:
		return []key.Binding{k.Less, k.More, k.Edit, k.AllBack, k.PutHereBack, k.MuchLess, k.MuchMore}
	case curvesScreen:
		return []key.Binding{k.PrevCurve, k.NextCurve, k.AsTable}
	case pricesScreen:
		return []key.Binding{k.Edit, k.Renew, k.OnlyUsed}
	}
	return nil
}

// footer are the keys to show at the foot of a screen, the most wanted first.
func (k keyMap) footer(s screen) []key.Binding {
	return append(k.here(s), k.Where, k.Back, k.Save, k.Undo, k.Help, k.Quit)
}

// full are all keys that work on a screen, for the help.
func (k keyMap) full(s screen) []group {
	return []group{
		{"On this screen", append(k.here(s), k.Where, k.Back)},
		{"Screens", k.Screens[:]},
		{"Moving", k.moving()},
		{"Edits", []key.Binding{k.Undo, k.Redo, k.Save, k.SaveAs}},
		{"Leaving", []key.Binding{k.Help, k.Quit, k.Interrupt, k.Suspend}},
	}
}
