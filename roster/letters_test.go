package roster

import (
	"slices"
	"testing"
)

// The first three rows are what a spreadsheet writes for Greek, Łukasz and
// Košice when it saves in Windows-1252; our own observation.
func TestLostLetters(t *testing.T) {
	r, err := ReadCSV("crew.csv", []byte("number,name,note\n1,????????? ??????,a\n2,?ukasz,b\n3,Ko?ice,c\n4,Who? Me,Really?\n5,Ida,https://x.test/a?b\n6,Ida,?\n7,Ida,a?b=c\n"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for column, want := range map[string][]int{"name": {0, 1, 2}, "note": nil, "number": nil} {
		if got := r.LostLetters(column); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", column, got, want)
		}
	}
}
