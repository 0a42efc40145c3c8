"""Read rows of digits with rapidocr: ``python rapid.py LIST``, one JSON text a line.

Runs in the environment of ``requirements.lock`` beside it, not in Breakwright's. Detection is
left out: the picture is the row already, so that only the reading is measured.
"""

import json
import sys
from pathlib import Path

from rapidocr_onnxruntime import RapidOCR


def main() -> None:
    engine = RapidOCR()
    for name in Path(sys.argv[1]).read_text(encoding="utf-8").splitlines():
        found, _ = engine(name, use_det=False, use_cls=False, use_rec=True)
        print(json.dumps(found[0][0] if found else ""), flush=True)


main()
