"""Who works at the invented shop. All names are invented; nobody passes their own work."""

MAKER = "Tolvan Merrabeck"  # forms, abrades, lays up, cures
SECOND_MAKER = "Isca Pellowdrake"  # trims, drills, weighs
INSPECTOR = "Wenda Harkthwaite"  # measures, tears coupons, maps voids, looks last
RECEIVER = "Osbrey Quillinder"  # inspects lots as they come in and keeps the freezer's record
DESIGN_AUTHORITY = "Ansel Vorrimoor"  # approves drawings, accepts deviations, makes nothing
OFFICE = "Brona Lindlesk"  # keeps the book, draws, matches and signs out

#: name -> what they are authorised for, in the words of the book
PEOPLE: dict[str, tuple[str, ...]] = {
    OFFICE: ("administer book", "draw", "match", "release"),
    DESIGN_AUTHORITY: ("approve drawing", "design authority"),
    RECEIVER: ("receive", "inspect"),
    MAKER: ("make", "bonding", "cure"),
    SECOND_MAKER: ("make",),
    INSPECTOR: ("inspect", "final inspection"),
}
