package edit_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"unspool/design/edit"
	"unspool/folder"
	"unspool/proof"
)

func TestGuess(t *testing.T) {
	for _, c := range []struct {
		what   string
		people edit.People
		want   edit.Roles
	}{
		{"a crew with photos named in the roster",
			edit.People{Columns: []string{"given", "family", "number", "photo", "role", "phone no"},
				Rows:   [][]string{{"Ida", "Sund", "000101", "ida.jpg", "Mate", "1"}, {"Ole", "Sund", "000102", "ole.jpg", "Mate", "2"}},
				Photos: []string{"photos/ida.jpg", "photos/ole.jpg"}},
			edit.Roles{Key: "number", Name: []string{"given", "family"}, Lines: []string{"role"}, Photo: "{photo}", Folder: "photos", Code: "code39"}},
		{"photos named by the key",
			edit.People{Columns: []string{"Name", "CardNo", "Valid until"}, Rows: [][]string{{"Ida Sund", "a-17", "2031"}, {"Ole Sund", "a-18", "2031"}},
				Photos: []string{"a-17.png", "a-18.png", "mark.svg"}},
			edit.Roles{Key: "CardNo", Name: []string{"Name"}, Lines: []string{"Valid until"}, Photo: "{CardNo}.png", Folder: ".", Code: "code128"}},
		{"German, and a number that is not unique",
			edit.People{Columns: []string{"Abteilungs-Nr", "Vorname", "Nachname", "Ausweis"}, Rows: [][]string{{"1", "Ida", "Sund", "7"}, {"1", "Ole", "Sund", "8"}}},
			edit.Roles{Key: "Ausweis", Name: []string{"Vorname", "Nachname"}, Code: "code39"}},
		{"photos of other people", edit.People{Columns: []string{"id"}, Rows: [][]string{{"1"}, {"2"}}, Photos: []string{"photos/x.jpg", "photos/y.jpg"}},
			edit.Roles{Key: "id", Code: "code39"}},
		{"keys that no code carries", edit.People{Columns: []string{"id"}, Rows: [][]string{{"日本"}}}, edit.Roles{Key: "id"}},
		{"a column that no text can name", edit.People{Columns: []string{"{id}", "x"}, Rows: [][]string{{"1", "a"}}}, edit.Roles{Key: "x", Code: "code128"}},
		{"nothing", edit.People{}, edit.Roles{}},
	} {
		if got := edit.Guess(c.people); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s:\n got %+v\nwant %+v", c.what, got, c.want)
		}
	}
}

// A new programme reads like one that a person wrote.
func TestNewReadsWell(t *testing.T) {
	s, err := edit.New("Gate: cards", "crew.csv", edit.Roles{Key: "number", Name: []string{"given", "family"}, Lines: []string{"role"}, Photo: "{photo}", Folder: "photos", Code: "code39"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"\nname: \"Gate: cards\"\n",
		"    - {name: portrait, photo: \"{photo}\", box: [5, 11, 18.6, 24]}\n",
		"    - {name: holder, text: \"{given} {family}\", box: [28, 11, 52.6, 6.5], size: 4.5, floor: 2.8, bold: true, valign: middle}\n",
		"    - {name: line 1, text: \"{role}\", box: [28, 18.5, 52.6, 4.5], size: 3.2, floor: 2.2, valign: middle}\n",
		"    - {name: code, code: code39, text: \"{number}\", box: [5, 37, 75.6, 10.8], backing: true, printed: number}\n",
		"\nroster:\n  file: crew.csv\n  key: number\n",
		"\nsample:\n  given: Ida\n  family: Example\n",
	} {
		if !strings.Contains(string(s.Bytes()), want) {
			t.Errorf("%q is not in\n%s", want, s.Bytes())
		}
	}
	if s, err := edit.New("x", "crew.csv", edit.Roles{}); s != nil || err == nil {
		t.Error("a programme without a key is made")
	}
	// The readers that stand there as a comment can be added below the faces.
	s, err = s.Apply(edit.Insert{Path: edit.Keys("readers").Item(0), Value: edit.List()})
	if err != nil || !strings.Contains(string(s.Bytes()), "readers: [[]]\n") {
		t.Errorf("%v\n%s", err, s.Bytes())
	}
}

// Whatever the columns are called, a new programme is sound for that roster.
func FuzzNew(f *testing.F) {
	f.Add("Gate", "crew.csv", "number,given,family,photo", "1,Ida,Sund,a.jpg", "photos/a.jpg")
	f.Add("{x}", "a b.xlsx", "id: #,name \"x\",true", "1,2,3", "1.png")
	f.Fuzz(func(t *testing.T, name, roster, columns, cells, photo string) {
		people := edit.People{Columns: strings.Split(columns, ","), Rows: [][]string{strings.Split(cells, ",")}, Photos: []string{photo}}
		s, err := edit.New(name, roster, edit.Guess(people))
		if err != nil {
			return
		}
		p := parsed(t, s)
		if err := p.CheckFields(people.Columns); err != nil {
			t.Errorf("%v\n%s", err, s.Bytes())
		}
	})
}

// A programme that is begun from a roster and photos opens and has a face.
func TestNewProves(t *testing.T) {
	dir := t.TempDir()
	var photo bytes.Buffer
	m := image.NewGray(image.Rect(0, 0, 30, 40))
	m.SetGray(15, 20, color.Gray{200})
	if err := png.Encode(&photo, m); err != nil {
		t.Fatal(err)
	}
	people := edit.People{Columns: []string{"number", "name"}, Rows: [][]string{{"000001", "Ida Sund"}}, Photos: []string{"000001.png"}}
	s, err := edit.New("Gate", "crew.csv", edit.Guess(people))
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{folder.Name: s.Bytes(), "crew.csv": []byte("number,name\n000001,Ida Sund\n"), "000001.png": photo.Bytes()} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	f, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	pf, err := proof.New(f.Programme, f, proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	w := pf.Worker()
	for i, row := range f.Rows() {
		card, err := w.Card(i, row)
		if err != nil {
			t.Fatal(err)
		}
		for _, finding := range card.Findings {
			if finding.Level == proof.Stop {
				t.Errorf("%+v", finding)
			}
		}
	}
}
