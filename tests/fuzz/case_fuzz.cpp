// A case file, with the sections it names; what reads makes rotors.

#include "held.hpp"
#include "loadline/case/case.hpp"
#include "loadline/scenario/rotors.hpp"

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const SectionFolders folders = {LOADLINE_ROOT "/airfoils"};
    reads_or_refuses(data, size, [](const std::string& text) {
        const Case read = parse_case(text, LOADLINE_ROOT "/cases/fuzzed.toml", folders);
        hold(!read.propellers.empty(), "a case that read has a propeller", text);
        for (std::size_t i = 0; i < read.propellers.size() && i < 3; ++i)
            static_cast<void>(rotor_of(read, read.propellers[i]));
        for (const std::string& note : read.notes)
            hold(!has_no_number(note) || has_no_number(text), "no figure that is none", note);
    });
    return 0;
}
