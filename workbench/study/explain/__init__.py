"""How each figure of a page comes about; worked out only when somebody asks."""
