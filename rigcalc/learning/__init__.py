"""What is sure and what is not yet, kept per name on this machine: for practice alone, never for a certificate."""
