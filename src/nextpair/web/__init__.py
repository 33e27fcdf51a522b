"""The web application: the pages at home and at the lanes, and the API that they use."""
