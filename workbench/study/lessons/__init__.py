"""Short guided lessons: text files that a trainer can change, and the live tank they speak of."""
