package econ

import (
	"context"
	"strings"
	"testing"
)

// silverPrices are requests for one lot with silver at several prices.
func silverPrices(t *testing.T, name string, prices ...string) []Named {
	t.Helper()
	base := request(t, name, sampleLots(t)[name], DefaultBook())
	var list []Named
	for _, price := range prices {
		text := string(silverAt(t, price))
		req := base
		req.Figures = base.Figures.Clone()
		book, err := DecodeBook(parse(t, text), req.Figures)
		if err != nil {
			t.Fatal(err)
		}
		req.Book = book
		list = append(list, Named{price, req})
	}
	return list
}

// Judged together, each book gives what it gives alone.
func TestCompareBooks(t *testing.T) {
	const name = "sterling-parting.toml"
	books := silverPrices(t, name, "30.00 / ozt", "12.00 / ozt", "45.00 / ozt")
	list, err := CompareBooks(context.Background(), books, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range list {
		sameStandings(t, c.Name, c.Appraisal, appraised(t, books[i].Request))
	}
	plans := Steady(list)
	for _, p := range plans {
		t.Logf("%+v", p)
	}
	if len(plans) < 2 || plans[0].Least < plans[len(plans)-1].Least {
		t.Errorf("steady plans %+v", plans)
	}
}

func TestCompareBooksOfTwoCurrencies(t *testing.T) {
	const name = "copper-etchant.toml"
	books := silverPrices(t, name, "30.00 / ozt", "12.00 / ozt")
	books[1].Request.Book.Currency = "EUR"
	if _, err := CompareBooks(context.Background(), books, nil); err == nil || !strings.Contains(err.Error(), "EUR") {
		t.Errorf("error %v, want the two currencies", err)
	}
}
