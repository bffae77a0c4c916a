package main

// notModelled says what the figures leave out. README.md carries the same
// sentences; a test compares the two.
var notModelled = []string{
	"Contained metal is not recoverable metal, and recoverable metal is not what a buyer pays for.",
	"Chemistry sets a ceiling; spills, fines and slag take more, and the losses used here are published or common practice, not yours.",
	"Acid, reagents and hours already spent on the lot are sunk and are not counted.",
	"Your own assay, the law where you live, permits, taxes, insurance of the workshop and the worth of your health are not counted.",
	"Organic matter, cyanide, mercury, ammonia complexes of silver and anything that you did not write down are not in the figures.",
	"The price book that comes with the program holds invented round figures: enter your own before you believe a verdict.",
}

func (p *page) notCovered() {
	p.heading("What these figures do not cover")
	for _, sentence := range notModelled {
		p.text("  - ", "%s", sentence)
	}
}
