// The main of every Boost.Test executable.
#define BOOST_TEST_MODULE racking
#include <boost/test/unit_test.hpp>
