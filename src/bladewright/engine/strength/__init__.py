"""What holds the parts together and how long: bonded and bolted joints, fatigue, cracks, margins."""
