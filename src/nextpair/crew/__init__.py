"""Who computes many sheets: processes of this machine, or a cluster of several."""
