"""One invented season at the Fennmark Rotor Shop, from the drawing to the papers. A second run changes nothing."""

import datetime
import shutil
import sys
import time
from pathlib import Path

from rich.progress import track

from bladewright.papers.blade import blade_record
from bladewright.papers.sets import set_record
from bladewright.records import checking, trace
from bladewright.records.blades import all_blades
from bladewright.records.judging import latest_verdict
from bladewright.records.opening import create_book, open_book
from bladewright.records.printing import paper_of_blade, paper_of_set
from bladewright.records.sets import all_sets, propose_sets
from examples.fennmark import diary, lots
from examples.fennmark.evidence import write_evidence

SHOP = Path("demo-shop")
