"""One function for each thing a person asks; every face calls these and nothing else."""
