package tui

// signs are the characters that carry a meaning. The second set draws the same
// with ASCII alone. No sign stands for two things on one screen.
type signs struct {
	cursor   string    // the row that keys act on
	caret    string    // where typing goes on
	rule     string    // lines between the parts of the screen
	zero     string    // nothing gained or lost, on the money axis
	baseline string    // the net of leaving the lot as it is
	net      string    // the net of a plan
	median   string    // the net that half of the draws stay below
	ends     [2]string // the nets that one draw in ten and nine in ten stay below
	between  string    // from end to end
	knob     string    // where a figure is put
	turn     string    // where the decision turns
	equal    string    // not to be told apart from the plan ranked first
	above    string    // from the baseline up to the net
	below    string    // from the baseline down to the net
	wall     string    // of the vessel
	corners  [2]string
	floor    string
	surface  string
	liquor   string
	settled  string
	thin     string // a settled layer thinner than half a row
	dot      string // between facts on a line
	arrow    string // from old to new
	more     string // text cut short
	plusless string // stands before a doubt
	up, down string // there is more above, below
	part     string // begins a part of a page
}

var drawnSigns = signs{
	cursor: "›", caret: "▏", rule: "─", zero: "│", baseline: "┆", net: "◆", median: "◇", ends: [2]string{"[", "]"}, between: "·", equal: "≈", knob: "●", turn: "▲", above: "━", below: "╌",
	wall: "│", corners: [2]string{"╰", "╯"}, floor: "─", surface: "~", liquor: "░", settled: "▓", thin: "▂",
	dot: "·", arrow: "→", more: "…", plusless: "±", up: "↑", down: "↓", part: "■",
}

var asciiSigns = signs{
	cursor: ">", caret: "_", rule: "-", zero: "|", baseline: ":", net: "O", median: "o", ends: [2]string{"[", "]"}, between: ".", equal: "~", knob: "@", turn: "^", above: "=", below: "-",
	wall: "|", corners: [2]string{"\\", "/"}, floor: "_", surface: "~", liquor: ".", settled: "%", thin: "_",
	dot: ",", arrow: "->", more: "..", plusless: "+-", up: "^", down: "v", part: "#",
}

// letters name the plans set abreast: they mark them in the standings and head
// their columns.
const letters = "ABCD"
