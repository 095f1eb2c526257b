"""Mass, bending, torsion and shear of a blade section; every function takes many stations at once."""
