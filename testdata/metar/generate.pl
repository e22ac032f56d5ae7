#!/usr/bin/perl
# Writes decoded-perl.csv: reports.txt as decoded by the independent library
# Geo::METAR (Debian package libgeo-metar-perl), to compare with
# weather.ParseMETAR. Run in this folder:
#
#   perl generate.pl > decoded-perl.csv
use strict;
use warnings;
use Geo::METAR;

print "# reports.txt as decoded by Geo::METAR $Geo::METAR::VERSION (Perl, Artistic licence or GPL); whole degrees of the body, no tenths.\n";
print "# Command: perl generate.pl > decoded-perl.csv\n";
print "station,time,wind_kt,gust_kt,wind_from_deg,temp_c,dew_point_c,altimeter_inhg\n";
open my $in, '<', 'reports.txt' or die $!;
while (<$in>) {
    chomp;
    next if /^#/ || !/\S/;
    # The library wants the first word METAR or SPECI, and COR behind the time.
    s/^METAR COR (\S+ \S+)/METAR $1 COR/;
    $_ = "METAR $_" unless /^(METAR|SPECI)/;
    my $m = Geo::METAR->new;
    $m->metar($_);
    my $none = sub { defined $_[0] ? $_[0] : '' };
    print join(',', map { $none->($_) } $m->SITE, $m->TIME, $m->WIND_KTS, $m->WIND_GUST_KTS,
        $m->WIND_DIR_DEG, $m->TEMP_C, $m->DEW_C, $m->ALT), "\n";
}
