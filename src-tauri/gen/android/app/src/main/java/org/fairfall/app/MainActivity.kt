package org.fairfall.app

import android.os.Bundle
import android.view.View
import androidx.activity.enableEdgeToEdge
import androidx.core.view.ViewCompat
import androidx.core.view.WindowInsetsCompat

class MainActivity : TauriActivity() {
  override fun onCreate(savedInstanceState: Bundle?) {
    enableEdgeToEdge()
    super.onCreate(savedInstanceState)
    keepClearOfBars(findViewById(android.R.id.content))
  }

  /**
   * The sheet ends where the system's bars, a cut-out or the keyboard begin. Not every web view tells
   * its page where they are, and none makes the page smaller for the keyboard by itself here.
   */
  private fun keepClearOfBars(sheet: View) {
    ViewCompat.setOnApplyWindowInsetsListener(sheet) { view, insets ->
      val taken = insets.getInsets(
        WindowInsetsCompat.Type.systemBars() or
          WindowInsetsCompat.Type.displayCutout() or
          WindowInsetsCompat.Type.ime()
      )
      view.setPadding(taken.left, taken.top, taken.right, taken.bottom)
      WindowInsetsCompat.CONSUMED
    }
  }
}
