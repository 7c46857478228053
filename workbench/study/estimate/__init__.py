"""The estimate: up to three options that differ in what they do, and what stands in their way."""
