"""Draw the README's pictures from the lead example: real output, nothing retouched.

python tools/pictures.py
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import pypdfium2

from foamwright.assess import assess
from foamwright.design import read_design_text, starter_text
from foamwright.drawing import write_plan

PICTURES = Path(__file__).resolve().parent.parent / "docs" / "pictures"
#: File of the plan, page (from 0), name of the picture, dots per inch.
WANTED = (
    ("three-view.pdf", 0, "dunlin-three-view.png", 75),
    ("plan-big.pdf", 0, "dunlin-parts.png", 32),
    ("plan-a4.pdf", 3, "dunlin-page.png", 60),
)


def main(folder: Path = PICTURES) -> None:
    """Write the plan beside the pictures for a moment, and render its pages."""
    folder.mkdir(parents=True, exist_ok=True)
    design = read_design_text(starter_text("dunlin")).variants[0]
    with tempfile.TemporaryDirectory() as plan:
        write_plan(assess(design), Path(plan), force=True)
        for name, page, picture, dots in WANTED:
            document = pypdfium2.PdfDocument(Path(plan) / name)
            image = document[page].render(scale=dots / 72.0).to_pil()
            image.convert("P", palette=1, colors=64).save(folder / picture, optimize=True)
            document.close()


if __name__ == "__main__":
    main()
