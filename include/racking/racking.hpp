// Racking reads free-text wine tasting notes. Include this for all of it.
#pragma once

#include "racking/error.hpp"
#include "racking/explanation.hpp"
#include "racking/hierarchy.hpp"
#include "racking/lexicon.hpp"
#include "racking/measures.hpp"
#include "racking/note.hpp"
#include "racking/reader.hpp"
#include "racking/short_list.hpp"
#include "racking/span.hpp"
#include "racking/suggestions.hpp"
#include "racking/version.hpp"
#include "racking/vocabulary.hpp"
