"""Where trips, gear and strikes are kept between runs, and how old files are brought forward."""
