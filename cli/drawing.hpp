#pragma once
/// Drawings for the bench as files, each 1:1.

#include "loadline/making/sheets.hpp"

#include <string>
#include <vector>

namespace loadline::cli {

/// One SVG document for each sheet, as large as the sheet and without a margin of its own in print.
std::vector<std::string> svg_of(const std::vector<LineDrawing>& sheets);

/// All sheets as pages of one PDF 1.6 (ISO 32000), lengths in points of 1/72 inch with three
/// decimals. Letters beyond Windows' Latin ones are question marks. It asks to be printed unscaled.
std::string pdf_of(const std::vector<LineDrawing>& sheets, const std::string& title);

/// A figure as DXF of release 12 (AC1009), in mm, a layer for each kind of line. Letters beyond
/// ASCII are question marks.
std::string dxf_of(const LineDrawing& figure);

/// The solid's sections at the stations, lines of `radius_mm,point,face,y_mm,z_mm`: from the tail
/// along the lower face to the nose and back over the upper face; y the way the blade moves, z
/// along the thrust.
std::string points_of(const BladeSolid& solid, const std::vector<DrawnStation>& stations);

/// How a kind of line looks: its name (a layer's too), its width and the lengths drawn and left
/// out in turn, mm of paper; with none it is whole.
struct LineLook {
    const char* name;
    double width;
    std::vector<double> dashes;
};
const LineLook& line_look(StrokeKind kind);

/// A decimal number without a sign for zero and without zeros at its end.
std::string short_number(double value, int decimals);

}  // namespace loadline::cli
