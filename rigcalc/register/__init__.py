"""The register of who was assessed, on what, by whom, with what result; and the certificates drawn from it."""
