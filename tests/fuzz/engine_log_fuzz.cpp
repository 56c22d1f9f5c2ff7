// An engine logger's file, its columns told by their names or named.

#include "held_log.hpp"

using namespace loadline;
using namespace loadline::fuzz;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    for (const EngineColumns& columns : {EngineColumns{}, EngineColumns{"w", "n", "k"}}) {
        reads_or_refuses(
            data, size,
            [&](const std::string& text) {
                const EngineLogFile file = parse_engine_log(text, "fuzzed/engine.csv", columns);
                hold(!file.samples.empty() && file.samples.size() <= most::log_samples,
                     "an engine's log that read has samples", text);
                hold(file.samples.front().time >= 0.0, "times count from the beginning or midnight",
                     text);
                hold_engine(file.samples, text);
                hold_notes(file.notes);
            });
    }
    return 0;
}
