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
ZXING = {"code39": F.Code39, "code128": F.Code128, "itf": F.ITF, "codabar": F.Codabar}
ZBAR = {"code39": "code39", "code128": "code128", "itf": "i25", "codabar": "codabar"}


def scanner(name):
    s = zbar.ImageScanner()
    s.parse_config("disable")
    s.parse_config(name + ".enable")
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
