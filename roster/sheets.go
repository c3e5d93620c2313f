package roster

import (
	"bytes"

	"github.com/xuri/excelize/v2"
)

// Sheets lists the sheets of a workbook in their order. A CSV file has none, and
// of a workbook that cannot be read there is nothing to list: Read says why.
func Sheets(src []byte) (names []string) {
	if !bytes.HasPrefix(src, []byte("PK\x03\x04")) || len(src) > maxFile {
		return nil
	}
	defer func() {
		if recover() != nil {
			names = nil // no spreadsheet has written this
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(src), excelize.Options{UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped})
	if err != nil {
		return nil
	}
	defer f.Close()
	return f.GetSheetList()
}
