"""One module a phenomenon: plain annotated scalar functions, each with unit and source."""
