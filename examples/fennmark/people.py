"""Who works at the invented shop. All names are invented; each person has one trade, so nobody signs their own work."""

MAKER = "Tolvan Merrabeck"  # forms, abrades, lays up, cures
SECOND_MAKER = "Isca Pellowdrake"  # trims, drills, weighs
INSPECTOR = "Wenda Harkthwaite"  # measures, tears coupons, maps voids, looks last
RECEIVER = "Osbrey Quillinder"  # takes in lots and keeps the freezer's record
DESIGN_AUTHORITY = "Dr. Ansel Vorrimoor"  # approves drawings, accepts deviations, makes nothing
OFFICE = "Brona Lindlesk"  # keeps the book, matches and signs out

#: name -> what they do, in the shop's words
PEOPLE = {
    MAKER: "blade maker",
    SECOND_MAKER: "blade maker, finishing and weighing",
    INSPECTOR: "inspector",
    RECEIVER: "receiving and freezer",
    DESIGN_AUTHORITY: "design authority",
    OFFICE: "book, matching and shipping",
}
