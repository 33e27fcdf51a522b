"""One module a part of the API: each turns requests into a use case and its result into JSON."""
