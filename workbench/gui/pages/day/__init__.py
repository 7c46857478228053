"""What a day and a year do to the pump."""
