package report

import (
	"bytes"
	"testing"

	"unspool/proof"
	"unspool/say"
)

// A page is made to be shared: of a finding that quotes the roster it shows what
// names nobody.
func TestPageQuotesNoRoster(t *testing.T) {
	in := Input{Summary: right(), Command: "unspool proof"}
	in.Summary.Groups = append(in.Summary.Groups, proof.Group{Cards: 1, Rows: []int{4}, Finding: proof.Finding{ID: "key-twice", Level: proof.Stop,
		Card: "004219", Measure: say.F("%q again", "004219"), Limit: say.Words("once"),
		Detail: say.Words(`the key "004219" stands in line 4 already`), Shared: say.Words("the key stands in line 4 already")}})
	page, err := HTML(in)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(page, []byte("004219")) {
		t.Error("the page shows a key")
	}
	if !bytes.Contains(page, []byte("The key stands in line 4 already")) {
		t.Error("the page says nothing of the key")
	}
}
