"""Reads bar codes with zbar and zxing-cpp, for the tests of this package.

On stdin: for each picture a line "SYMBOLOGY WIDTH HEIGHT" and then one byte a
dot, 1 black. On stdout: for each picture one JSON line {"zbar": [...],
"zxing": [...]}, the texts that each found when told the symbology.
"""
import json
import sys

import numpy
import zbar
import zxingcpp

F = zxingcpp.BarcodeFormat
ZXING = {"code39": F.Code39, "code128": F.Code128, "itf": F.ITF, "codabar": F.Codabar,
         "code93": F.Code93, "gs1-128": F.Code128, "isbt128": F.Code128,
         "ean13": F.EAN13, "ean8": F.EAN8, "upca": F.UPCA, "upce": F.UPCE}
ZBAR = {"code39": "code39", "code128": "code128", "itf": "i25", "codabar": "codabar",
        "code93": "code93", "gs1-128": "code128", "isbt128": "code128",
        "ean13": "ean13", "ean8": "ean8", "upca": "upca", "upce": "upce"}


def scanner(name):
    s = zbar.ImageScanner()
    s.parse_config("disable")
    s.parse_config(name + ".enable")
    if name == "upca":
        s.parse_config("ean13.enable")  # zbar reads a UPC-A as one of these
    if name in ("code39", "code128", "i25", "codabar", "code93"):
        s.parse_config(name + ".min-length=1")
    return s


SCANNERS = {kind: scanner(name) for kind, name in ZBAR.items()}

stdin = sys.stdin.buffer
while header := stdin.readline().split():
    kind, width, height = header[0].decode(), int(header[1]), int(header[2])
    dots = numpy.frombuffer(stdin.read(width * height), numpy.uint8)
    grey = (255 * (1 - dots)).astype(numpy.uint8).reshape(height, width)
    picture = zbar.Image(width, height, "Y800", grey.tobytes())
    SCANNERS[kind].scan(picture)
    found = zxingcpp.read_barcode(grey, formats=ZXING[kind])
    print(json.dumps({
        "zbar": sorted({s.data for s in picture}),
        "zxing": [found.text] if found else [],
    }))
