"""Several unequal tanks on one header, and what replaces an old plain tank."""
