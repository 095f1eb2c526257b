"""One invented day at the Fennmark Rotor Shop, from the drawing to a word for every blade."""

from pathlib import Path

from bladewright.drawing.file import read_drawing
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description, read_pull_description
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.signed_record import read_signed_record
from bladewright.evidence.weighing import read_weighing
from bladewright.figures import digest
from bladewright.proof.records import BladeEvidence
from bladewright.proof.verdict import judge_blade
from examples.fennmark.evidence import BladeFiles, Evidence, write_evidence

SHOP = Path("demo-shop")


def main() -> None:
    """Write the batch's files, read them back as a shop would and judge every blade."""
    files = write_evidence(SHOP / "files-from-the-floor")
    drawing = read_drawing(files.drawing)
    sha256 = digest(files.drawing.read_bytes())
    print(f"{drawing.name} demo: {len(files.blades)} serials (all data invented)\n")
    for blade in files.blades:
        verdict = judge_blade(drawing, sha256, blade.serial, _read(files, blade), (), "0.1.0")
        print(f"{blade.serial}  {verdict.word:12} {verdict.first_reason}")


def _read(files: Evidence, blade: BladeFiles) -> BladeEvidence:
    logger, pull = read_logger_description(files.logger), read_pull_description(files.pull)
    return BladeEvidence(
        cures=(read_cure_log(blade.cure, logger),),
        coupons=((read_coupon(blade.coupon), read_pull_curve(blade.pull_curve, pull)),),
        sheets=(read_dimension_sheet(blade.dimensions),),
        weighings=() if blade.weighing is None else (read_weighing(blade.weighing),),
        signed=tuple(read_signed_record(path) for path in blade.signed),
    )


if __name__ == "__main__":
    main()
