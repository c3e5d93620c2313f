package roster

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"
)

// maxUnzipped bounds what a workbook may grow to in memory.
const maxUnzipped = 256 << 20

// ReadXLSX reads a sheet of a workbook. A cell comes out as the sheet shows it,
// so that a number formatted 00000 keeps its zeros; dates without a format of
// their own come as 2027-03-31. A number of more than 15 digits is an error, for
// spreadsheets do not keep more. name is what messages call the file; errors
// begin with it and the row.
func ReadXLSX(name string, src []byte, o Options) (r *Roster, err error) {
	if len(src) > maxFile {
		return nil, fmt.Errorf("%s: is %d MB long, more than the %d MB a roster may have; split the run", name, len(src)>>20, maxFile>>20)
	}
	// The workbook library meets files that no spreadsheet has written; what it
	// cannot read must not take the program down.
	defer func() {
		if p := recover(); p != nil {
			r, err = nil, damaged(name, nil)
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(src), excelize.Options{
		UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped, ShortDatePattern: "yyyy-mm-dd",
	})
	if err != nil {
		return nil, damaged(name, err)
	}
	defer f.Close()
	formulas, err := checkSheets(f)
	if err != nil {
		return nil, damaged(name, err)
	}
	sheet, err := pickSheet(name, f, o.Sheet)
	if err != nil {
		return nil, err
	}
	s := &sheetReader{builder: newBuilder(name, len(src)), f: f, sheet: sheet, formulas: formulas}
	return s.read()
}

func damaged(name string, err error) error {
	if err == nil {
		return fmt.Errorf("%s: cannot be read as a workbook; open it in a spreadsheet and save it again as .xlsx", name)
	}
	return fmt.Errorf("%s: cannot be read as a workbook (%s); open it in a spreadsheet and save it again as .xlsx", name, printable(err.Error()))
}

// pickSheet is the sheet wanted, or the first.
func pickSheet(name string, f *excelize.File, want string) (string, error) {
	sheets := f.GetSheetList()
	if len(sheets) == 0 {
		return "", damaged(name, nil)
	}
	if want == "" {
		return sheets[0], nil
	}
	for _, s := range sheets {
		if s == want {
			return s, nil
		}
	}
	return "", fmt.Errorf("%s: has no sheet %q; the sheets are %s", name, shorten(want), shorten(strings.Join(sheets, ", ")))
}

// checkSheets reads the sheets through as XML, for the workbook library takes a
// fault in one for its end, and says whether any holds a formula.
func checkSheets(f *excelize.File) (formulas bool, err error) {
	f.Pkg.Range(func(name, content any) bool {
		text, ok := content.([]byte)
		if part := name.(string); !ok || !strings.HasPrefix(part, "xl/worksheets/") || !strings.HasSuffix(part, ".xml") {
			return true
		}
		formulas = formulas || bytes.Contains(text, []byte("<f"))
		d := xml.NewDecoder(bytes.NewReader(text))
		for err == nil {
			_, err = d.RawToken()
		}
		if err == io.EOF && bytes.HasSuffix(bytes.TrimSpace(text), []byte(">")) {
			err = nil
		}
		return err == nil
	})
	return formulas, err
}

// sheetReader reads one sheet twice at the same pace: as it is shown and as it
// is stored.
type sheetReader struct {
	*builder
	f        *excelize.File
	sheet    string
	formulas bool
}

func (s *sheetReader) read() (*Roster, error) {
	shown, err := s.f.Rows(s.sheet)
	if err != nil {
		return nil, damaged(s.name, err)
	}
	stored, err := s.f.Rows(s.sheet)
	if err != nil {
		return nil, damaged(s.name, err)
	}
	first, cells := 0, []string{}
	for line := 1; shown.Next() && stored.Next(); line++ {
		show, err := shown.Columns()
		if err != nil {
			return nil, damaged(s.name, err)
		}
		raw, err := stored.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, damaged(s.name, err)
		}
		if cells, err = s.cells(line, cells[:0], show, raw); err != nil {
			return nil, err
		}
		switch {
		case blank(cells):
		case first == 0:
			first, err = line, s.header(line, cells)
		default:
			err = s.row(line, cells)
		}
		if err != nil {
			return nil, err
		}
	}
	if err := shown.Error(); err != nil {
		return nil, damaged(s.name, err)
	}
	if first == 0 {
		return nil, fmt.Errorf("%s: sheet %q is empty; its first row holds the names of the columns", s.name, s.sheet)
	}
	return s.finish(first)
}

// cells settles the cells of one row.
func (s *sheetReader) cells(line int, to, shown, stored []string) ([]string, error) {
	if len(shown) > maxColumns {
		return nil, s.fault(line, "has a cell in column %d, beyond the %d that a roster may have; is this the right sheet?", len(shown), maxColumns)
	}
	width := len(s.out.Columns)
	for i, show := range shown {
		if width > 0 && i >= width {
			if strings.TrimSpace(show) != "" {
				return nil, s.fault(line, "cell %s holds %q beyond the last named column; name its column or empty it", cellName(i, line), shorten(show))
			}
			continue
		}
		raw := ""
		if i < len(stored) {
			raw = stored[i]
		}
		cell, err := s.cell(i, line, show, raw)
		if err != nil {
			return nil, err
		}
		to = append(to, cell)
	}
	for len(to) > 0 && to[len(to)-1] == "" {
		to = to[:len(to)-1]
	}
	return to, nil
}

// cell settles one cell from what is shown and what is stored.
func (s *sheetReader) cell(i, line int, shown, stored string) (string, error) {
	if shown == "" {
		if s.formulas && stored == "" {
			if formula, err := s.f.GetCellFormula(s.sheet, cellName(i, line)); err == nil && formula != "" {
				return "", s.fault(line, "cell %s is a formula without a result; open the file in a spreadsheet and save it again", cellName(i, line))
			}
		}
		return shown, nil
	}
	if errorValues[shown] {
		return "", s.fault(line, "cell %s shows the error %s; mend its formula", cellName(i, line), shown)
	}
	if integerDigits(stored) <= 15 {
		if strings.Contains(shown, "E+") && digitsOnly(stored) {
			return stored, nil
		}
		return shown, nil
	}
	if shown == stored {
		// A text that happens to be digits is kept; only a number has lost some.
		kind, err := s.f.GetCellType(s.sheet, cellName(i, line))
		if err == nil && kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
			return shown, nil
		}
	}
	return "", s.fault(line, "cell %s is a number of more than 15 digits, of which a spreadsheet keeps only 15; format the column as text and enter it again", cellName(i, line))
}

// errorValues are what a formula shows that has failed.
var errorValues = map[string]bool{
	"#DIV/0!": true, "#N/A": true, "#NAME?": true, "#NULL!": true, "#NUM!": true, "#REF!": true, "#VALUE!": true,
	"#SPILL!": true, "#CALC!": true, "#GETTING_DATA": true,
}

// integerDigits is how many digits a whole number has before its point, written
// plainly or as 1.23E+16; 0 where the text is no number.
func integerDigits(s string) int {
	mantissa, exponent, scientific := strings.Cut(strings.TrimPrefix(s, "-"), "E+")
	whole, fraction, _ := strings.Cut(mantissa, ".")
	if !digitsOnly(whole) || fraction != "" && !digitsOnly(fraction) {
		return 0
	}
	if !scientific {
		return len(strings.TrimLeft(whole, "0"))
	}
	n := 0
	if !digitsOnly(exponent) || len(exponent) > 3 {
		return 0
	}
	for _, d := range exponent {
		n = 10*n + int(d-'0')
	}
	return len(whole) + n
}

func digitsOnly(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// cellName is the name of a cell: column i from 0, row from 1.
func cellName(i, row int) string {
	name, err := excelize.CoordinatesToCellName(i+1, row)
	if err != nil {
		return fmt.Sprintf("in column %d", i+1)
	}
	return name
}
