"""One folder per page; a page answers one question and shows results that it is given."""
