"""Reads pictures with zbar and zxing-cpp, for the tests of this package.

On stdin: file names of portable gray maps, one a line. On stdout: for each one
JSON line {"zbar": [...], "zxing": [...]}, the texts that each found, told of no
symbology.
"""
import json
import sys

import numpy
import zbar
import zxingcpp

scanner = zbar.ImageScanner()
scanner.parse_config("enable")
for kind in ("code39", "code128", "i25", "codabar", "code93"):
    scanner.parse_config(kind + ".min-length=1")

for name in sys.stdin:
    with open(name.strip(), "rb") as f:
        header = b""
        while header.count(b"\n") < 3:
            header += f.readline()
        width, height = (int(n) for n in header.split()[1:3])
        grey = numpy.frombuffer(f.read(), numpy.uint8).reshape(height, width)
    picture = zbar.Image(width, height, "Y800", grey.tobytes())
    scanner.scan(picture)
    print(json.dumps({
        "zbar": sorted({s.data for s in picture}),
        "zxing": sorted({r.text for r in zxingcpp.read_barcodes(grey)}),
    }))
