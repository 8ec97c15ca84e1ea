"""Reading what instruments and cameras wrote: files in, reflectances and linear pictures out."""
