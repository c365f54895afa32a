"""Sizes of brakes and the limits sheet that lists them; estimates for what a sheet leaves out."""
