"""Reads two-dimensional symbols with zxing-cpp and zbar, for tests.

On stdin: for each picture a line "SYMBOLOGY WIDTH HEIGHT" and then one byte a
dot, 1 black. On stdout: for each picture one JSON line {"bytes": hexadecimal,
"text": ..., "zbar": [...]}; bytes and text are zxing-cpp's, null where it found
nothing, and zbar's texts come only where it knows the symbology.
"""
import json
import sys

import numpy
import zbar
import zxingcpp

qr = zbar.ImageScanner()
qr.parse_config("disable")
qr.parse_config("qrcode.enable")

stdin = sys.stdin.buffer
while header := stdin.readline().split():
    kind, width, height = header[0].decode(), int(header[1]), int(header[2])
    dots = numpy.frombuffer(stdin.read(width * height), numpy.uint8)
    grey = (255 * (1 - dots)).astype(numpy.uint8).reshape(height, width)
    found = zxingcpp.read_barcode(
        grey, formats=getattr(zxingcpp.BarcodeFormat, kind), is_pure=True)
    answer = {
        "bytes": found.bytes.hex() if found else None,
        "text": found.text if found else None,
    }
    if kind == "QRCode":
        picture = zbar.Image(width, height, "Y800", grey.tobytes())
        qr.scan(picture)
        answer["zbar"] = sorted({s.data for s in picture})
    print(json.dumps(answer))
