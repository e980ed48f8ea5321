"""The geometry of the changes: necks, hems, sleeves, widths, facings."""
