"""What a job costs and what a customer pays for it, in exact decimals."""
