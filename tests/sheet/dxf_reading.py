"""Reads a DXF file by an independent reader and tells, as JSON, what stands in it."""
import json
import sys

from ezdxf import recover

document, audit = recover.readfile(sys.argv[1])
lines, words = [], []
for entity in document.modelspace():
    if entity.dxftype() == "POLYLINE":
        points = [list(v.dxf.location)[:2] for v in entity.vertices]
        lines.append({"layer": entity.dxf.layer, "closed": entity.is_closed, "points": points})
    elif entity.dxftype() == "TEXT":
        words.append({"layer": entity.dxf.layer, "text": entity.dxf.text})
    else:
        sys.exit("unexpected " + entity.dxftype())
json.dump(
    {
        "version": document.dxfversion,
        "unit": document.header.get("$INSUNITS"),
        "errors": len(audit.errors),
        "fixes": len(audit.fixes),
        "layers": sorted(layer.dxf.name for layer in document.layers),
        "lines": lines,
        "words": words,
    },
    sys.stdout,
)
