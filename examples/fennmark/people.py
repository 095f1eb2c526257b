"""Who works at the invented shop. All names are invented; nobody passes their own work."""

MAKER = "Tolvan Merrabeck"
SECOND_MAKER = "Isca Pellowdrake"
INSPECTOR = "Wenda Harkthwaite"
RECEIVER = "Osbrey Quillinder"
DESIGN_AUTHORITY = "Ansel Vorrimoor"
OFFICE = "Brona Lindlesk"

#: name -> what they do, in the shop's words
PEOPLE = {
    MAKER: "forms, treats surfaces, lays up, cures",
    SECOND_MAKER: "trims, drills, weighs",
    INSPECTOR: "compares certificates, measures, tears coupons, maps voids, looks last",
    RECEIVER: "takes in lots",
    DESIGN_AUTHORITY: "approves drawings, accepts deviations, makes nothing",
    OFFICE: "keeps the book, draws, matches, signs out",
}
