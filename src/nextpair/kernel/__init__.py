"""The compiled batch loop over shots: array layout, integration, outcomes."""
