#pragma once
/// A blade drawn to scale for the bench.

#include "loadline/strength/section_shape.hpp"

#include <string>
#include <vector>

namespace loadline::cli {

/// Pages in SVG, one document each, A4 on its side and in millimetres, so that a print "at 100 %"
/// is as large as the blade: first the planform laid flat, its stations marked, cut into pages that
/// overlap; then the section at each station. Every page has a line to check the print with. A
/// blade wider than a page makes the pages taller than A4.
std::vector<std::string> blade_pages(const std::string& name, const BladeShape& shape);

}  // namespace loadline::cli
