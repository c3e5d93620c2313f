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
	"unspool/site"
	"unspool/unit"
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
	crew := edit.Roles{Key: "number", Name: []string{"given", "family"}, Lines: []string{"role"}, Photo: "{photo}", Folder: "photos", Code: "code39"}
	s, err := edit.New(edit.Start{Name: "Gate: cards", Roster: "crew.csv", Roles: crew, Black: site.Objects})
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
	if s, err := edit.New(edit.Start{Name: "x", Roster: "crew.csv"}); s != nil || err == nil {
		t.Error("a programme without a key is made")
	}
	// The readers that stand there as a comment can be added below the faces.
	s, err = s.Apply(edit.Insert{Path: edit.Keys("readers").Item(0), Value: edit.List()})
	if err != nil || !strings.Contains(string(s.Bytes()), "readers: [[]]\n") {
		t.Errorf("%v\n%s", err, s.Bytes())
	}
}

// What is stated when a programme is begun stands in it, readers as a person
// would write them, and the code lies under every slot reader's line: as the
// reader's line is defined, no source.
func TestNewTakesWhatIsStated(t *testing.T) {
	slot := func(side site.Side, from site.Edge, line float64) site.Reader {
		return site.Reader{Name: "Clock", Kind: site.Slot, Peak: 940, Accepts: []site.Accept{{Kind: "code39"}}, Track: site.Track{Side: side, From: from, Line: unit.MM(line)}}
	}
	hand := site.Reader{Name: "Purser", Kind: site.Hand, Peak: 660, Accepts: []site.Accept{{Kind: "code39"}, {Kind: "itf"}}}
	start := edit.Start{Name: "Quay", Roster: "crew.xlsx", Sheet: "Deck: all", DPI: 600, Panels: "YMCKOK", Carbon: site.CarbonNo, Black: site.Dark,
		Roles: edit.Roles{Key: "no", Name: []string{"who"}, Lines: []string{"a", "b", "c"}, Photo: "{no}.jpg", Folder: "Fotos", Code: "code39"}, Readers: []site.Reader{slot(site.Front, site.Bottom, 12.5), hand}}
	s, err := edit.New(start)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\n  dpi: 600\n", "\n  panels: YMCKOK\n  resin: not carbon\n", "\nblack: {rule: dark, limit: 40}\n", ", folder: Fotos, ", "\n  sheet: \"Deck: all\"\n",
		"\nreaders:\n  - {name: Clock, kind: slot, light: 940, accepts: [code39], side: front, from: bottom, line: 12.5}\n  - {name: Purser, kind: hand, light: 660, accepts: [code39, itf]}\n"} {
		if !strings.Contains(string(s.Bytes()), want) {
			t.Errorf("%q is not in\n%s", want, s.Bytes())
		}
	}
	for _, side := range []site.Side{site.Front, site.Back} {
		for _, from := range []site.Edge{site.Top, site.Bottom} {
			for line := 3.0; line <= 50; line += 0.5 {
				start.Readers = []site.Reader{slot(side, from, line)}
				s, err := edit.New(start)
				if err != nil {
					t.Fatalf("%v %v %v: %v", side, from, line, err)
				}
				c := unit.MM(line)
				if from == site.Bottom {
					c = unit.MM(53.98 - line)
				}
				found, was := 0, ""
				for i := range parsed(t, s).Faces {
					f := parsed(t, s).Faces[i]
					for n := 0; f != nil && n < len(f.Elements); n++ {
						e := &f.Elements[n]
						if e.Code != nil {
							found++
							if was = e.Name; site.Side(i) != side || e.Box.Y > c-unit.MM(1) || e.Box.Y+e.Box.H < c+unit.MM(1) {
								t.Errorf("%v %v %v: the code lies at %v on the %v", side, from, line, e.Box, site.Side(i))
							}
						}
						if b := e.Box; b.Y+b.H > unit.MM(53.3) || e.Text != nil && (b.H < unit.MM(2) || e.Text.Size < unit.MM(2)) {
							t.Errorf("%v %v %v: %s lies at %v", side, from, line, e.Name, b)
						}
						for _, o := range f.Elements[:n] {
							if o.Box.X < e.Box.X+e.Box.W && e.Box.X < o.Box.X+o.Box.W && o.Box.Y < e.Box.Y+e.Box.H && e.Box.Y < o.Box.Y+o.Box.H {
								t.Errorf("%v %v %v: %s lies over %s", side, from, line, e.Name, o.Name)
							}
						}
					}
				}
				if found != 1 {
					t.Errorf("%v %v %v: %d codes, the last %q", side, from, line, found, was)
				}
			}
		}
	}
	for panels, black := range map[string]bool{"KO": false, "YMCO": false, "YMCKK": true} {
		s, err := edit.New(edit.Start{Name: "x", Roster: "r.csv", Panels: panels, Black: site.Exact, Roles: edit.Roles{Key: "no"}})
		if err != nil || strings.Contains(string(s.Bytes()), "\nblack: exact\n") != black {
			t.Errorf("%s: %v\n%s", panels, err, s.Bytes())
		}
	}
	if _, err := edit.New(edit.Start{Name: "x", Roster: "r.csv", Panels: "YQ", Roles: edit.Roles{Key: "no"}}); err == nil || !strings.Contains(err.Error(), "ribbon.panels") {
		t.Errorf("an unknown panel: %v", err)
	}
}

// Whatever the columns are called, a new programme is sound for that roster.
func FuzzNew(f *testing.F) {
	f.Add("Gate", "crew.csv", "number,given,family,photo", "1,Ida,Sund,a.jpg", "photos/a.jpg")
	f.Add("{x}", "a b.xlsx", "id: #,name \"x\",true", "1,2,3", "1.png")
	f.Fuzz(func(t *testing.T, name, roster, columns, cells, photo string) {
		people := edit.People{Columns: strings.Split(columns, ","), Rows: [][]string{strings.Split(cells, ",")}, Photos: []string{photo}}
		s, err := edit.New(edit.Start{Name: name, Roster: roster, Roles: edit.Guess(people)})
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
	s, err := edit.New(edit.Start{Name: "Gate", Roster: "crew.csv", Roles: edit.Guess(people), Black: site.Objects})
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
